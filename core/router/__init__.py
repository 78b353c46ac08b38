"""From the part's Regions to the path of the bit."""
