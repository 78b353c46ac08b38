"""The demo picture and the script that draws it."""
