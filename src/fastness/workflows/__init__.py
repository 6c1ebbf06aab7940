"""What a user can do, one function an action; the command line only calls these."""
