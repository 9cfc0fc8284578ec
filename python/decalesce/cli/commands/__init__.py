"""One small file a command; what it needs of the library is imported when it runs."""
