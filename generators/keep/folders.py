"""Where things are kept: the user's folders, as the platform (or XDG_CONFIG_HOME and XDG_DATA_HOME) says."""

import os
from hashlib import sha256
from pathlib import Path

from platformdirs import user_config_path, user_data_path

APP = "waterkey"
# How much of a profile's name stands in that of its log, in characters, and how much of a digest of its place.
_STEM, _DIGEST = 40, 10


def profile_place() -> Path:
    """Return the place of the profile that is used where no file is named."""
    return user_config_path(APP, appauthor=False) / "player.toml"


def log_place(profile: Path | None = None) -> Path:
    """Return the place of the practice log of a profile: each file has its own, told from others by where it lies."""
    folder = user_data_path(APP, appauthor=False)
    where = os.path.realpath(profile) if profile else ""
    if where in ("", os.path.realpath(profile_place())):
        return folder / "log.sqlite"
    digest = sha256(os.fsencode(where)).hexdigest()[:_DIGEST]
    return folder / "logs" / f"{Path(where).stem[:_STEM]}-{digest}.sqlite"
