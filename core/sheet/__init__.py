"""Where everything lies: the stock, the part on it, the marks, the zero."""
