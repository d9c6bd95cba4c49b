"""The fault-finding card: symptoms with the first reading and this job's own figures."""
