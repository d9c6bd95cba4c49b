"""Cards of one page: what somebody needs who has a minute."""
