"""Whether a file is as we wrote it: the code of its music stands in it beside a digest of all else."""

import re
from hashlib import sha256

LENGTH = 16


def blank(code: str) -> str:
    """Return what stands in a file until it is sealed: `blank("K3F7-Q2MD") == "K3F7-Q2MD 0000000000000000"`."""
    return f"{code} {'0' * LENGTH}"


def seal(content: bytes, code: str) -> str:
    """Return a code with the digest of some content."""
    return f"{code} {sha256(content).hexdigest()[:LENGTH]}"


def sealed(content: bytes, code: str) -> bytes:
    """Return content that holds the blank seal of its music with that filled in."""
    return content.replace(blank(code).encode(), seal(content, code).encode())


def is_sealed(content: bytes, code: str) -> bool:
    """Return whether content holds the seal of a music and nothing in it was changed since."""
    found = set(re.findall(rb"%b [0-9a-f]{%d}" % (re.escape(code.encode()), LENGTH), content))
    return any(sealed(content.replace(one, blank(code).encode()), code) == content for one in found)
