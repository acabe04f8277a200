"""What each command does, apart from words on the screen."""
