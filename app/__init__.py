"""The command line and the window: they hold a Job and show what core makes of it."""
