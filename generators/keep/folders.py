"""Where things are kept: the user's folders, as the platform (or XDG_CONFIG_HOME and XDG_DATA_HOME) says."""

from pathlib import Path

from platformdirs import user_config_path, user_data_path

APP = "waterkey"


def profile_place() -> Path:
    """Return the place of the profile that is used where no file is named."""
    return user_config_path(APP, appauthor=False) / "player.toml"


def log_place() -> Path:
    """Return the place of the practice log."""
    return user_data_path(APP, appauthor=False) / "log.sqlite"
