"""A SMART Health Link (HL7, STU 1): a link that health-record programs open, and the sealed files behind it.

The link is ``shlink:/`` and base64url of a short JSON: where the manifest is, the key that unseals the files, until
when it stands. Files are JWE in compact form (dir, A256GCM, deflated). Whoever has the link but not the passcode gets
nothing; whoever has the server's files but not the link cannot read them.
"""

from __future__ import annotations

import base64
import json
from typing import Any

FHIR = "application/fhir+json"
LABEL_MAX = 80
URL_MAX = 128
PREFIX = "shlink:/"


def written(url: str, key: bytes, expires_s: int, *, label: str, live: bool, passcode: bool) -> str:
    """The link. ValueError where it would break the specification's limits."""
    if len(url) > URL_MAX or len(key) != 32:
        raise ValueError("a health link's address has 128 characters at most, its key 32 bytes")
    flag = ("L" if live else "") + ("P" if passcode else "")
    told: dict[str, Any] = {"url": url, "key": _text(key), "exp": expires_s, "label": label[:LABEL_MAX], "v": 1}
    if flag:
        told["flag"] = flag
    return PREFIX + _text(json.dumps(told, separators=(",", ":")).encode())


def sealed(payload: bytes, key: bytes) -> str:
    """A file as JWE."""
    from joserfc import jwe  # here: with its cryptography it is a tenth of a server's memory, for files few ask for
    from joserfc.jwk import OctKey

    header = {"alg": "dir", "enc": "A256GCM", "zip": "DEF", "cty": FHIR}
    return jwe.encrypt_compact(header, payload, OctKey.import_key(key))


def _text(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).decode().rstrip("=")
