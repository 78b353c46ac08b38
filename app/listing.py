"""Every choice as TOML or JSON: name, default, unit, limits, one line of help."""

import json
from collections.abc import Callable, Iterable

from core.errors import WrongCall
from core.job.choice import Choice

Listing = Callable[[Iterable[Choice]], str]


def listing_named(form: str) -> Listing:
    """The listing of this form. Raises WrongCall for any other than toml and json."""
    listings: dict[str, Listing] = {"toml": choices_as_toml, "json": choices_as_json}
    if form not in listings:
        raise WrongCall(f"--format takes {' or '.join(listings)}, not '{form}'.")
    return listings[form]


def choices_as_json(choices: Iterable[Choice]) -> str:
    """A list of objects under "choices"."""
    entries = [{"name": choice.key, **_entry(choice)} for choice in choices]
    return json.dumps({"choices": entries}, ensure_ascii=False, indent=1) + "\n"


def choices_as_toml(choices: Iterable[Choice]) -> str:
    """A table [GROUP.CHOICE] for each."""
    return "\n".join(map(_table, choices))


def _table(choice: Choice) -> str:
    # a JSON string is a TOML basic string, both escape alike
    lines = [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in _entry(choice).items()]
    return "\n".join((f"[{choice.key}]", *lines, ""))


def _entry(choice: Choice) -> dict[str, str]:
    return {
        "kind": choice.kind.name,
        "default": choice.default_text,
        "unit": choice.unit,
        "limits": choice.limits(),
        "help": choice.help,
        "wakes": str(choice.wakes),
    }
