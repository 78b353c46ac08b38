"""RS-274 programs: `write` and `read`, which share nothing, so that they cannot agree on a mistake."""
