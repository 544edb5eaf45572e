"""What the commands share, and those that are long: mail and members."""
