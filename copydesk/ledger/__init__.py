"""What has happened: entries, and the state they fold into."""
