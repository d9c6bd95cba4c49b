"""What every sheet of the pack has in common: head, foot, banner."""
