"""What each kind of file must look like."""
