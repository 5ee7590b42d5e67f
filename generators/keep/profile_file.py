"""Where a profile is kept: in the user's configuration folder, or in any file."""

from dataclasses import replace
from pathlib import Path

from generators.errors import BadRequest, Refusal
from generators.keep.files import check_target, is_there, read_text, save, user_path
from generators.keep.folders import profile_place
from generators.keep.profile_text import as_toml, edited, from_toml
from generators.plain_text import writable
from generators.routine.profile import Profile
from generators.routine.profile_check import check_profile


def profile_path(path: str | Path | None = None) -> Path:
    """Return the file of a profile: the one named, or the user's own."""
    return user_path(path, "profile") if path else profile_place()


def load_profile(path: str | Path | None = None) -> Profile:
    """Read a profile; without a file named and none kept it is the default one. Raises BadRequest with file and line."""
    place = profile_path(path)
    if not is_there(place) and not path:
        return Profile()
    return from_toml(_text(place), str(place))


def save_profile(profile: Profile, path: str | Path | None = None, *, anew: bool = False) -> Path:
    """Keep a profile and return its file; in a file that is there only what differs is changed, unless it is made `anew`."""
    check_profile(profile)
    place = profile_path(path)
    check_target(place)
    kept = replace(profile, name=writable(profile.name))
    fresh = anew or not is_there(place)
    save({place: (as_toml(kept) if fresh else edited(_text(place), kept, str(place))).encode()})
    return place


def _text(place: Path) -> str:
    if not is_there(place):
        raise BadRequest(Refusal("profile", why="is not there", do="make it first, or name another", where=str(place)))
    return read_text(place)
