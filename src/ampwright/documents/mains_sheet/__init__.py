"""The electrician's sheet: the mains side as far as the job knows it, completed by the licensed person."""
