"""The page at the bench, served to this machine alone, and documents that stand by themselves."""
