"""Harm done to the bytes of a kit's files by text, the way a hand, a script or another program would."""

import re
from collections.abc import Callable
from io import StringIO

Point = Callable[[float, float], tuple[float, float]]

#: One command of a path that we write, with the numbers behind its letter.
_COMMAND = re.compile(r"([MLA]) ?([-0-9. ]+)")


def replaced(data: bytes, old: str, new: str, count: int = -1) -> bytes:
    """The text with old made new; it has to be there."""
    text = data.decode()
    assert old in text, old
    return text.replace(old, new, count).encode()


def in_group(data: bytes, group: str, change: Callable[[str], str]) -> bytes:
    """An SVG drawing with the text of one group changed."""
    head, opening, rest = data.decode().partition(f'<g id="{group}"')
    body, closing, tail = rest.partition("</g>")
    assert opening
    assert closing
    return (head + opening + change(body) + closing + tail).encode()


def path_mapped(path: str, moved: Point, scale: float = 1.0) -> str:
    """The path data with every point moved, and radii times scale."""

    def command(match: re.Match[str]) -> str:
        letter, numbers = match[1], [float(text) for text in match[2].split()]
        numbers[-2:] = moved(*numbers[-2:])
        if letter == "A":
            numbers[:2] = [scale * number for number in numbers[:2]]
            numbers[2:5] = [int(number) for number in numbers[2:5]]
        return letter + " ".join(f"{number:.9g}" for number in numbers) + " "

    return _COMMAND.sub(command, path)


def first_path_moved(dx: float) -> Callable[[str], str]:
    """A change of a group's text: its first path dx further right."""

    def change(body: str) -> str:
        before, opening, rest = body.partition(' d="')
        path, closing, after = rest.partition('"')
        return before + opening + path_mapped(path, lambda x, y: (x + dx, y)) + closing + after

    return change


def paths_scaled(factor: float, about: tuple[float, float]) -> Callable[[str], str]:
    """A change of a group's text: every path factor times as large about a point."""

    def moved(x: float, y: float) -> tuple[float, float]:
        return about[0] + factor * (x - about[0]), about[1] + factor * (y - about[1])

    return lambda body: re.sub(r'(?<= d=")[^"]*', lambda found: path_mapped(found[0], moved, factor), body)


def dxf_changed(data: bytes, change: Callable) -> bytes:
    """A DXF drawing opened by the library, changed in its model space, and saved again by it."""
    import ezdxf  # noqa: PLC0415 - slow to import, needed only here

    drawing = ezdxf.read(StringIO(data.decode()))
    change(drawing)
    out = StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def words_shifted(letter: str, by: float, since: str, until: str = "") -> Callable[[bytes], bytes]:
    """A change of a program: every word of this letter between two comments has by added to it."""

    def change(data: bytes) -> bytes:
        head, mark, tail = data.decode().partition(since)
        assert mark
        own, end, rest = tail.partition(until) if until else (tail, "", "")
        assert bool(end) == bool(until)
        shifted = re.sub(rf"{letter}(-?[0-9.]+)", lambda word: f"{letter}{float(word[1]) + by:.4f}", own)
        return (head + mark + shifted + end + rest).encode()

    return change


def longest_move_lost(since: str) -> Callable[[bytes], bytes]:
    """A change of a program: of the moves behind a comment, the line that goes farthest is left out."""

    def change(data: bytes) -> bytes:
        head, mark, tail = data.decode().partition(since)
        lines, x, far = tail.split("\n"), None, (0.0, 0)
        for row, line in enumerate(lines):
            word = re.search(r"X(-?[0-9.]+)", line)
            if word and x is not None:
                far = max(far, (abs(float(word[1]) - x), row))
            x = float(word[1]) if word else x
        assert far[0] > 1.0
        del lines[far[1]]
        return (head + mark + "\n".join(lines)).encode()

    return change
