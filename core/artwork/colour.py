"""Colours as CSS writes them (CSS Color 4): keywords, hexadecimal, rgb() and hsl()."""

import colorsys
import re
from functools import lru_cache

from core.errors import UnreadableFile
from core.patches.colour_names import Rgb, keywords, rgb_of

_HEX = re.compile(r"#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})")
_CALL = re.compile(r"(rgb|hsl)a?\(([^()]*)\)")
_NUMBER = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%|deg)?")

#: How CSS names colours that a window would choose; on paper they are these.
_OTHERS = {"windowtext": "black", "canvastext": "black", "canvas": "white", "window": "white"}


@lru_cache(1024)  # a drawing says the same few colours thousands of times
def read_colour(text: str) -> tuple[Rgb, float] | None:
    """The colour and its opacity, each 0..1; None for none. UnreadableFile for what is no colour."""
    word = text.strip().lower()
    if word in ("none", "transparent", ""):
        return None
    word = _OTHERS.get(word, word)
    if word in keywords():
        return keywords()[word], 1.0
    if _HEX.fullmatch(word):
        return _hexadecimal(word[1:])
    match = _CALL.fullmatch(word)
    numbers = _NUMBER.findall(match.group(2)) if match else []
    if match is None or len(numbers) not in (3, 4):
        raise UnreadableFile(f'The drawing has the colour "{text[:40]}", which cannot be read.')
    opacity = _share(*numbers[3]) if len(numbers) == 4 else 1.0
    return (_red_green_blue(numbers) if match.group(1) == "rgb" else _hue(numbers)), opacity


def _hexadecimal(digits: str) -> tuple[Rgb, float]:
    if len(digits) < 6:
        digits = "".join(2 * digit for digit in digits)
    return rgb_of(digits[:6]), int(digits[6:] or "ff", 16) / 255.0


def _share(number: str, unit: str, whole: float = 1.0) -> float:
    return min(max(float(number) / (100.0 if unit == "%" else whole), 0.0), 1.0)


def _red_green_blue(numbers: list[tuple[str, str]]) -> Rgb:
    red, green, blue = (_share(number, unit, 255.0) for number, unit in numbers[:3])
    return red, green, blue


def _hue(numbers: list[tuple[str, str]]) -> Rgb:
    hue = float(numbers[0][0]) / 360.0 % 1.0
    saturation, lightness = (_share(number, "%") for number, _ in numbers[1:3])
    return colorsys.hls_to_rgb(hue, lightness, saturation)
