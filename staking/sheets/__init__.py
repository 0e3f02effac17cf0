"""Pages without paper: what each sheet says, in order; the exports turn them into PDF and HTML."""
