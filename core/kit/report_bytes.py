"""A report as bytes: the same in every locale, one number a field, nothing that is not JSON."""

import json
from collections.abc import Mapping
from typing import Any


def report_bytes(report: Mapping[str, Any]) -> bytes:
    """UTF-8 JSON. Raises ValueError for a number that JSON cannot say, which is a defect of ours."""
    return (json.dumps(report, ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode()
