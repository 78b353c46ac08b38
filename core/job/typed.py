"""A plain value of a TOML file as the text that a person would type for it."""

from core.errors import BadValue


def typed(said: object, key: str) -> str:
    """The text of text, a whole number, yes or no, or a list of them. Raises BadValue for anything else."""
    if isinstance(said, bool):
        return "yes" if said else "no"
    if isinstance(said, (str, int)):
        return str(said)
    if isinstance(said, list) and not any(isinstance(item, (list, dict)) for item in said):
        return "; ".join(typed(item, key) for item in said)
    raise BadValue(f"{key}: write it as text, as a number, or as a list of them.")
