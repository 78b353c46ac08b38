"""Touch-ups: small edits that are kept in the Job in picture px and made again on every Build."""
