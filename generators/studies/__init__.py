"""One module for each kind of study: a frozen parameter record and one pure function to a Study."""
