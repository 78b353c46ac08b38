"""The Job: every choice declared once, what people type, and the Job as it is saved."""
