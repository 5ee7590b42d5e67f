"""The sheet of one study."""

from generators.phrase.study import Study
from generators.proof.prove import proved
from generators.sheets.document import Document, Music, Section, Stamp, horn_band
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import make
from generators.studies.kit.request import Request

# A file name lists keys up to so many, and counts them beyond.
MOST_NAMED = 4


def study_document(request: Request, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the sheet of a request, its study proved."""
    study = make(request)
    findings = proved(study)
    return Document(
        name=file_name(study.kind, request.horn, *_keys(study), stamp.code),
        title=sheet.title or study.title,
        sheet=sheet,
        stamp=stamp,
        chapters=(Music(sections=(Section(study),), title=sheet.title, band=horn_band(study.horn, sheet)),),
        findings=findings,
    )


def file_name(*words: str) -> str:
    """Return a file name that tells what is in the file: `file_name("flow", "cornet", "F#m") == "flow-cornet-Fsharpm"`."""
    return "-".join(word.replace("#", "sharp").replace(" ", "-") for word in words if word)


def _keys(study: Study) -> list[str]:
    """Return the keys that a file name tells; what lies on tubes has none."""
    keys = list(dict.fromkeys(strain.key.name for strain in study.strains if not strain.tube))
    return keys if len(keys) <= MOST_NAMED else [f"{len(keys)}-keys"]
