"""Search around the assessment: smallest change, questions that matter."""
