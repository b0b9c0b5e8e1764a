"""What a job and a plan are: frozen records without behaviour."""
