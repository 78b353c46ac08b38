"""Numbers as RS-274 has them: fixed decimals, no exponent, no minus before a zero (NISTIR 6556 3.3.2.1)."""


def decimal_text(steps: int, places: int) -> str:
    """The number of steps over 10 ** places, in as few digits as say it: -12500 at 4 is "-1.25"."""
    whole, part = divmod(abs(steps), 10**places)
    fraction = f"{part:0{places}d}".rstrip("0") if part else ""
    sign = "-" if steps < 0 else ""
    return f"{sign}{whole}.{fraction}" if fraction else f"{sign}{whole}"


def rounded_text(value: float, places: int) -> str:
    """The value rounded to that many decimals."""
    return decimal_text(round(value * 10**places), places)
