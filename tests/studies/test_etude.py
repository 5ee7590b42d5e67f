"""The etude: tunes of a kind, with upbeats, cadences where they are planned, a middle in a near key, laws of the line."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, groupby, pairwise

import pytest
from hypothesis import given

from generators.brass.grade import grade
from generators.chance import Dice
from generators.errors import BadRequest
from generators.phrase.algebra import length
from generators.phrase.articulation import SETS, articulation
from generators.phrase.bars import COMMON
from generators.phrase.note import Note, Rest
from generators.phrase.remark import LeftOut
from generators.phrase.study import Strain, Study
from generators.proof.prove import prove
from generators.studies.catalogue import first_notes, make
from generators.studies.etude.course import COURSES, linked, links
from generators.studies.etude.features import FEATURES
from generators.studies.etude.forms import FIRST_FORMS, TUNE_FORMS
from generators.studies.etude.freshness import commonplace
from generators.studies.etude.harmony import (
    ARRIVALS,
    NUMERALS,
    PIVOTS,
    PROGRESSIONS,
    RELATED,
    RETURNS,
    ChordSound,
    related,
    tones,
)
from generators.studies.etude.kinds import TUNE_KINDS
from generators.studies.etude.marks import barwise
from generators.studies.etude.melody import SINGING
from generators.studies.etude.rhythm import closes, duration, ornamented, rhythm, shortened, varied
from generators.studies.etude.study import ASKED_SETS, EtudeRequest, etude
from generators.studies.etude.tune import TunePhrase
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import Pitch, parse_pitch
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

NONE = Fraction(0)
HOMES = ("Eb", "C", "Am", "F#m", "Db", "Cm", "B")
# Every kind, many seeds, keys, lengths and grades.
ASKED = (
    *(
        EtudeRequest(seed=i, kind=kind, keys=(HOMES[i % len(HOMES)],), bars=list(TUNE_FORMS)[(i + j) % 4])
        for j, kind in enumerate(TUNE_KINDS)
        for i in (j % 2,)
    ),
    *(EtudeRequest(seed=i, grade=grade, bars=("8", "16")[i % 2]) for i, grade in enumerate("12356")),
    *(EtudeRequest(seed=seed) for seed in range(6)),
    *(EtudeRequest(seed=seed, keys=("Dm", "Bb"), leap=7, articulation="slurred-pairs") for seed in range(2)),
)
study_of = cache(etude)


def length_of(asked: EtudeRequest) -> int:
    """Return how many bars a tune has, asked for or by the grade."""
    return int(asked.bars or grade(first_notes(asked).grade).tune)


@pytest.fixture(params=ASKED, ids=[str(i) for i in range(len(ASKED))])
def asked(request: pytest.FixtureRequest) -> EtudeRequest:
    """Return one request after another; its etude is composed when a test runs, once."""
    chosen: EtudeRequest = request.param
    return chosen


@pytest.fixture
def study(asked: EtudeRequest) -> Study:
    """Return an etude as it is printed."""
    return study_of(asked)


def phrases(study: Study) -> Iterator[list[Note[Pitch]]]:
    """Yield the notes of every four bars, each with its upbeat."""
    for strain in study.strains:
        now, found = -strain.upbeat, [list[Note[Pitch]]() for _ in range(bars_of(strain) // 4)]
        for event in strain.music:
            place = int((now + strain.upbeat) // (4 * strain.meter.bar))
            if isinstance(event, Note):
                found[place].append(event)
            now += event.length
        yield from found


def bars_of(strain: Strain) -> int:
    """Return how many bars a strain has, an upbeat and what it takes of the last bar counted as one."""
    return len(strain.bars) - bool(strain.upbeat)


def pairs(study: Study) -> Iterator[tuple[Note[Pitch], Note[Pitch]]]:
    """Yield neighbours that nothing parts."""
    for strain in study.strains:
        for a, b in pairwise(strain.music):
            if isinstance(a, Note) and isinstance(b, Note) and not a.breath:
                yield a, b


def test_proved(asked: EtudeRequest, study: Study) -> None:
    """Every etude passes the whole proof and has the bars asked for; sections begin with the upbeat of all."""
    assert () == prove(study)
    assert length_of(asked) == sum(map(bars_of, study.strains))
    assert 1 == len({strain.upbeat for strain in study.strains})
    assert all(sum(strain.lines) == len(strain.bars) for strain in study.strains)


def test_it_ends_at_home(study: Study) -> None:
    """The last note is the tonic, on a first beat, at least half as long as its bar."""
    last, home = study.strains[-1], study.strains[0].key
    bar = last.bars[-1]

    assert isinstance(bar[0], Note)
    assert home.tonic == bar[0].pitch.name[:-1]
    assert bar[0].length >= sum((event.length for event in bar), NONE) / 2


def test_nothing_rests_on_the_seventh(study: Study) -> None:
    """No phrase of a section at home closes on the leading note."""
    for strain, phrase in zip([s for s in study.strains for _ in range(bars_of(s) // 4)], phrases(study), strict=True):
        if strain.label.name not in ("B", "C"):
            assert phrase[-1].pitch.step != study.strains[0].key.degree(6).step


def test_moves_sing(asked: EtudeRequest, study: Study) -> None:
    """A move is one that is sung, no wider than asked for; past a fourth the line turns back or stands."""
    for a, b in pairs(study):
        steps, half_steps = abs(a.pitch.place - b.pitch.place), abs(a.pitch.midi - b.pitch.midi)

        assert half_steps in SINGING[steps]
        assert half_steps <= (asked.leap or 12)


def test_no_pile_of_repeated_notes(study: Study) -> None:
    """No pitch is struck more than four times in a row within a phrase."""
    for phrase in phrases(study):
        line = [note.pitch.midi for note in phrase]
        assert all(len(set(five)) > 1 for five in zip(*(line[i:] for i in range(5)), strict=False))


def test_slurs_join_different_notes(study: Study) -> None:
    """No slur joins a note to itself, nor goes over a breath; nothing slurred is struck short."""
    for strain in study.strains:
        under = False
        for event in strain.music:
            if isinstance(event, Note):
                under = under or event.slur_open
                assert not (under and event.breath and not event.slur_close)
                under = under and not event.slur_close
    assert all(a.pitch != b.pitch for a, b in pairs(study) if a.slur_open and b.slur_close)


def test_hairpins_follow_the_line(study: Study) -> None:
    """What grows goes up to the note where it arrives, what falls goes down to it."""
    for strain in study.strains:
        notes = list(strain.notes)
        starts = [i for i, note in enumerate(notes) if note.hairpin in ("<", ">")]
        for start in starts:
            goal = next(i for i in range(start + 1, len(notes)) if notes[i].dynamic)
            rises = notes[goal].pitch.place - notes[start].pitch.place

            assert rises > 0 if notes[start].hairpin == "<" else rises < 0


def test_at_most_four_bars_are_literal(study: Study) -> None:
    """No more than four bars in a row are said again note for note."""
    bars = [
        tuple((event.length, event.pitch if isinstance(event, Note) else None) for event in bar)
        for strain in study.strains
        for bar in strain.bars[bool(strain.upbeat) :]
    ]
    for first, second in combinations(range(len(bars)), 2):
        run = next((n for n in range(len(bars) - second) if bars[first + n] != bars[second + n]), len(bars) - second)

        assert run <= 4 or second - first < run


def test_minor_has_its_leading_note() -> None:
    """In minor the seventh goes up to the tonic raised, in every kind."""
    for kind in TUNE_KINDS:
        for a, b in pairs(make(EtudeRequest(kind=kind, keys=("Cm",), bars="8", seed=2))):
            if (a.pitch.step, b.pitch.step) == ("B", "C") and b.pitch.place == a.pitch.place + 1:
                assert 0 == a.pitch.alter


@LAWS
@given(studies("etude"))
def test_whatever_is_asked(drawn: tuple[EtudeRequest, Study]) -> None:
    """Whatever horn, range, grade, key, kind and articulation is asked for, the etude has its bars and is proved."""
    request, study = drawn

    assert () == tuple(finding for finding in prove(study) if finding.rule != "ledger lines")
    assert length_of(request) == sum(map(bars_of, study.strains))


def test_kinds_differ() -> None:
    """Each kind has its meter and tempo; lined up by notes a bar, by repeated notes and by slurs they are not in one order."""
    made = {kind: make(EtudeRequest(kind=kind, bars="16", seed=4)) for kind in TUNE_KINDS}
    orders = {
        tuple(sorted(made, key=lambda name: measure(made[name])))
        for measure in (
            lambda one: len(one.notes) / sum(map(bars_of, one.strains)),
            lambda one: sum(a.pitch == b.pitch for a, b in pairs(one)),
            lambda one: sum(note.slur_open for note in one.notes),
        )
    }

    assert all({TUNE_KINDS[name].meter} == {strain.meter for strain in one.strains} for name, one in made.items())
    assert 3 == len(orders)


def test_same_seed_same_etude() -> None:
    """An etude is a pure function of its request."""
    assert etude(EtudeRequest(seed=4)) == etude(EtudeRequest(seed=4))


def test_ten_seeds_ten_tunes() -> None:
    """Ten seeds give ten openings, no two with the same notes, and no two whole etudes alike in rhythm."""
    tunes = [study_of(EtudeRequest(seed=seed, bars=("32", "8")[seed > 5])) for seed in range(10)]
    openings = [tuple(note.pitch for note in study.notes[:8]) for study in tunes]
    values = [tuple(event.length for strain in study.strains for event in strain.music) for study in tunes]

    assert 10 == len(set(openings)) == len(set(values))
    assert 3 <= len({study.name.split()[0] for study in tunes})


def test_tunes_are_like_tunes() -> None:
    """Over many tunes most begin with an upbeat, half of the moves are steps, a fifth or so repeat, and some leap."""
    made = [study_of(EtudeRequest(seed=seed)) for seed in range(6)] + [study_of(request) for request in ASKED[:9]]
    moves = Counter(min(3, abs(a.pitch.place - b.pitch.place)) for study in made for a, b in pairs(study))
    share = {steps: count / sum(moves.values()) for steps, count in moves.items()}

    assert 0.5 < sum(bool(study.strains[0].upbeat) for study in made) / len(made)
    assert 0.4 < share[1] < 0.6
    assert 0.1 < share[0] < 0.3
    assert 0.05 < share[3] < 0.25


def test_the_middle_takes_a_related_key() -> None:
    """Of the keys given the middle takes one that is near home; one too far away is left for another etude, and told."""
    near = etude(EtudeRequest(keys=("Ab", "Fm"), seed=3, bars="24"))
    far = etude(EtudeRequest(keys=("Ab", "E"), seed=3, bars="24"))

    assert {"relative minor"} == set(related(parse_key("Ab"), (parse_key("Ab"), parse_key("Fm")), ()))
    assert () == near.remarks
    assert (LeftOut((parse_key("E"),)),) == far.remarks


@pytest.mark.parametrize("home", all_keys(), ids=lambda key: key.name)
def test_related_keys_are_near(home: Key) -> None:
    """A related key shares a chord with home, and is written with few signs; a learner stays in the keys of the grade."""
    for key in related(home, (), ()).values():
        chords = [
            {frozenset(of.degree(index).midi % 12 for index in (root, root + 2, root + 4)) for root in range(7)}
            for of in (home, key)
        ]
        assert chords[0] & chords[1] or home.tonic == key.tonic
    assert {"F"} == {key.name for key in related(parse_key("C"), (), ("C", "F")).values()}
    assert {"home"} == set(related(parse_key("C"), (), ("C",)))


def test_the_tables_are_whole() -> None:
    """Progressions have four bars of known chords; rhythms fill their bar; forms have the bars that they are for."""
    texts = [text for row in PROGRESSIONS.values() for text in row]
    halves = [text for row in PIVOTS.values() for text in row] + [*ARRIVALS, *RETURNS]
    chords = {chord.rstrip("^") for text in texts + halves for bar in text.split("|") for chord in bar.split()}

    assert {4} == {len(text.split("|")) for text in texts}
    assert {2} == {len(text.split("|")) for text in halves}
    assert chords <= set(NUMERALS)
    assert set(PIVOTS) == {name for row in RELATED.values() for name in row} | {"home"}
    assert all(int(bars) == 4 * len(form.phrases) for bars, forms in TUNE_FORMS.items() for form in forms)
    for kind in TUNE_KINDS.values():
        assert {kind.meter.bar} == {duration(rhythm(text)) for text in (*kind.bars, *kind.others, *kind.broad)}
        for upbeat in map(rhythm, kind.upbeats):
            room = kind.meter.bar - duration(upbeat)
            ends = closes(kind, room, Fraction(1, 16))
            assert {room} == {duration(end) for end in (*ends, *map(shortened, ends))}


def test_tones_of_a_chord() -> None:
    """Over a dominant of minor the seventh is raised and belongs to the chord, and the plain one is not there."""
    sevenths = [tone for tone in tones(ChordSound(parse_key("Cm"), "V")) if tone.degree == 6]

    assert {"B"} == {tone.pitch.name[:-1] for tone in sevenths}
    assert all(tone.chordal and tone.raised for tone in sevenths)


def test_ornaments_keep_their_notes() -> None:
    """An ornamented bar is as long as before, and the first of two notes comes from the one that was divided."""
    bar, sources = ornamented(rhythm("2 4 4"), Fraction(1, 8))

    assert duration(rhythm("2 4 4")) == duration(bar)
    assert (0, -1, 1, 2, -1) == sources


def test_varied_bars_keep_their_length() -> None:
    """A bar with one value changed is as long as before; its notes come of those in their places, or are new."""
    for kind in TUNE_KINDS.values():
        for text in kind.bars:
            bar, sources = varied(rhythm(text), Fraction(1, 16), Dice(1, text))
            assert duration(rhythm(text)) == duration(bar)
            assert [source for source in sources if source >= 0] == list(range(len(rhythm(text))))
            assert len(sources) == len(bar)


def test_courses_are_whole() -> None:
    """A course has three bars before the close, of rhythms and bars that there are; what forms ask for is there."""
    read = [links(text) for row in COURSES.values() for text in row]

    assert {3} == set(map(len, read))
    assert {link.name for course in read for link in course} == {*"xybw12"}
    asked = [form for forms in (*TUNE_FORMS.values(), *FIRST_FORMS.values()) for form in forms]
    assert {plan.course for form in asked for plan in form.phrases} == set(COURSES)
    assert 1 == linked(links("1 2 2+"), 2)
    assert -1 == linked(links("1 2 1"), 2)


def test_what_is_moved_is_heard() -> None:
    """Of the middles most have a bar that is the one before it, or that of two before, on other steps."""
    middles = [
        strain
        for seed in range(2)
        for kind in TUNE_KINDS
        for strain in study_of(EtudeRequest(kind=kind, bars="24", seed=seed)).strains
        if strain.label.name == "B"
    ]

    assert 0.5 < sum(map(_sequenced, middles)) / len(middles)


def _sequenced(strain: Strain) -> bool:
    """Tell whether a bar is one shortly before it moved: the same rhythm, the same ways up and down from another note."""
    bars = [[e for e in bar if isinstance(e, Note)] for bar in strain.bars[bool(strain.upbeat) :]]
    shapes = [[(a.length, b.length, _sign(b.pitch.place - a.pitch.place)) for a, b in pairwise(bar)] for bar in bars]
    return any(
        shapes[i] and shapes[i] == shapes[i - by] and bars[i][0].pitch != bars[i - by][0].pitch
        for by in (1, 2)
        for i in range(by, len(bars))
    )


def _sign(number: int) -> int:
    return (number > 0) - (number < 0)


def test_bold_tunes_end_high() -> None:
    """A march, a fanfare or a gigue ends within a third of the highest note of its last phrase, on the highest tonic."""
    for kind in (row for row in TUNE_KINDS.values() if row.bold):
        for seed in range(3):
            study = make(EtudeRequest(kind=kind.name, bars="16", seed=seed))
            last = list(phrases(study))[-1]
            assert max(note.pitch.place for note in last) - last[-1].pitch.place <= 2


def test_what_leads_back() -> None:
    """Some middles lead back: the notes after their last breath go to within a fourth of the next section."""
    found = 0
    for seed in range(8):
        study = study_of(EtudeRequest(seed=seed, kind="song", bars="24"))
        middle, after = next(pair for pair in pairwise(study.strains) if pair[0].label.name == "B")
        parted = [i for i, e in enumerate(middle.music) if isinstance(e, Rest) or e.breath]
        leading = [event for event in middle.music[parted[-1] + 1 :] if isinstance(event, Note)]
        if 0 < len(leading) < 3:
            found += 1
            assert abs(leading[-1].pitch.place - after.notes[0].pitch.place) <= 3

    assert found


def test_what_anybody_has_written() -> None:
    """A scale in one value has less news than a line with leaps and dotted notes."""
    plain, told = ("4 4 4 4", (28, 29, 30, 31)), ("4. 8 2", (28, 32, 31))

    assert commonplace(_phrase(*plain)) > commonplace(_phrase(*told))


def _phrase(text: str, places: tuple[int, ...]) -> TunePhrase:
    """Return a phrase of four bars of one rhythm and the same steps."""
    made = {tone.place: tone for tone in tones(ChordSound(parse_key("C"), "I"))}
    line = tuple(made[place] for place in places * 4)
    return TunePhrase(TUNE_FORMS["8"][0].phrases[0], (), (rhythm(text),) * 4, (), line, halved=False)


def test_features_run_through() -> None:
    """Leaps, scales, chords, tonguing and slurs are more than without; high lies higher than low."""
    made = {name: [make(EtudeRequest(feature=name, bars="8", seed=seed)) for seed in range(3)] for name in FEATURES}
    made[""] = [make(EtudeRequest(bars="8", seed=seed)) for seed in range(3)]

    def share(name: str, *wanted: int) -> float:
        moves = [min(4, abs(a.pitch.place - b.pitch.place)) for study in made[name] for a, b in pairs(study)]
        return sum(move in wanted for move in moves) / len(moves)

    def height(name: str) -> float:
        line = [note.pitch.midi for study in made[name] for note in study.notes]
        return sum(line) / len(line)

    assert share("leaps", 3, 4) > share("", 3, 4)
    assert share("scales", 1) > share("", 1)
    assert share("arpeggios", 2, 3) > share("", 2, 3)
    assert share("tonguing", 0) > share("", 0)
    assert 0 == sum(note.slur_open for study in made["tonguing"] for note in study.notes)
    assert sum(n.slur_open for s in made["slurs"] for n in s.notes) > sum(n.slur_open for s in made[""] for n in s.notes)
    assert height("high") > height("low")


def test_five_notes_are_a_tune() -> None:
    """Eight bars on five notes, in the grade of a beginner, in quarters, halves and eighths."""
    study = make(EtudeRequest(low="C4", high="G4", bars="8", keys=("C",), grade="1", seed=2))

    assert {note.pitch.name for note in study.notes} <= {"C4", "D4", "E4", "F4", "G4"}
    assert 4 <= len({note.pitch for note in study.notes})
    assert min(note.length for note in study.notes) >= Fraction(1, 8)


def test_slurs_stop_at_bars_breaths_and_octaves() -> None:
    """A set laid over a line never slurs over a bar line, a breath or an octave, and every slur is whole."""
    bare = tuple(Note(parse_pitch(name), Fraction(1, 4)) for name in ("C4", "D4", "D5", "D5", "E5", "F5"))
    music = barwise((*bare[:4], replace(bare[4], breath=True), bare[5]), articulation("slurred"), COMMON, NONE)

    assert [True, False, False, False, False, False] == [note.slur_open for note in music if isinstance(note, Note)]
    assert [False, True, False, False, False, False] == [note.slur_close for note in music if isinstance(note, Note)]


@pytest.mark.parametrize(("feature", "foreign"), [("tonguing", "Song Hymn Lament"), ("slurs", "Fanfare March")])
def test_a_feature_suits_its_kind(feature: str, foreign: str) -> None:
    """By itself no song is all tongued and no call all slurred; asked for, either is."""
    drawn = {study_of(EtudeRequest(feature=feature, bars="8", seed=seed)).name.split()[0] for seed in range(8)}
    first = foreign.split()[0]

    assert not drawn & {*foreign.split()}
    assert first == study_of(EtudeRequest(kind=first.lower(), feature=feature, bars="8")).name.split()[0]


def test_slurs_of_a_middle_cross_bars() -> None:
    """In kinds that sing some slurs of a middle section go over a bar line, in the others none does."""
    over = {name: sum(map(_over, (study_of(EtudeRequest(seed=i, kind=name)) for i in range(5)))) for name in ("song", "march")}

    assert over["song"] > 0
    assert over["march"] == 0


def _over(study: Study) -> int:
    """Return how many bar lines are under a slur."""
    found = 0
    for strain in study.strains:
        now, under = -strain.upbeat, False
        for event in strain.music:
            found += under and now % strain.meter.bar == 0
            if isinstance(event, Note):
                under = (under or event.slur_open) and not (event.slur_close and not event.slur_open)
            now += event.length
    return found


def test_asked_sets_are_sets() -> None:
    """What articulation may be asked for is a set, without syllables."""
    assert all(not SETS[name].syllables for name in ASKED_SETS)


@pytest.mark.parametrize(
    ("wrong", "what", "allowed"),
    [
        ({"leap": 3}, "leap", "5 to 24 half-steps, or 0"),
        ({"bars": "20"}, "bars", tuple(TUNE_FORMS)),
        ({"kind": "polka"}, "kind", tuple(TUNE_KINDS)),
        ({"meter": "5/4"}, "meter", ("4/4", "2/4", "3/4", "6/8")),
        ({"kind": "waltz", "meter": "2/4"}, "meter", ("3/4",)),
        ({"kind": "gigue", "grade": "1"}, "kind", tuple(name for name in TUNE_KINDS if name != "gigue")),
    ],
)
def test_refusals(wrong: dict[str, str], what: str, allowed: str | tuple[str, ...]) -> None:
    """What cannot be had is refused with what is allowed."""
    with pytest.raises(BadRequest) as told:
        make(EtudeRequest(**wrong))  # type: ignore[arg-type]

    assert (what, allowed) == (told.value.refusal.what, told.value.refusal.allowed)


def test_a_tempo_past_the_tongue() -> None:
    """A tempo at which the eighths of a kind are too quick for the tongue is refused with one at which they are not."""
    with pytest.raises(BadRequest) as told:
        make(EtudeRequest(kind="march", tempo=140, tongue=63))

    assert (("tempo", ("126",)),) == told.value.refusal.would_do
    assert 126 == make(EtudeRequest(kind="march", tempo=126, tongue=63)).tempo


def test_a_range_too_narrow() -> None:
    """A range of a step is refused with a limit that would do, and it does."""
    request = EtudeRequest(low="G4", high="A4")
    with pytest.raises(BadRequest) as told:
        make(request)
    cure = {field: values[0] for field, values in told.value.refusal.would_do}

    assert {"low", "high"} & set(cure)
    assert make(replace(request, **cure)).strains  # type: ignore[arg-type]


def test_singing_kinds_slow() -> None:
    """The word for slowing stands once, in the last section of a kind that slows, and never in a march."""
    song = [sum(note.role == "slowing" for note in strain.notes) for strain in make(EtudeRequest(kind="song", seed=1)).strains]
    march = make(EtudeRequest(kind="march", seed=1))

    assert (1, 1) == (sum(song), song[-1])
    assert not any(note.role for note in march.notes)


def test_whole_bars_close_the_breaths() -> None:
    """A rest or a breath follows the last note of every phrase but the last."""
    for request in ASKED[:9]:
        study = study_of(request)
        for strain in study.strains:
            ends = [note for note in strain.notes if note.breath]
            rests = [event for event in strain.music if isinstance(event, Rest)]
            assert len(ends) + len(rests) >= bars_of(strain) // 4 - 1
            assert length(strain.music) == bars_of(strain) * strain.meter.bar


@pytest.mark.parametrize("kind", TUNE_KINDS)
@pytest.mark.parametrize("bars", ["8", "16", "24", "32"])
def test_no_bar_is_dead(kind: str, bars: str) -> None:
    """No tune is silent for more than two thirds of a bar before its end; one of 24 or more rests on its way."""
    study = make(EtudeRequest(kind=kind, bars=bars, seed=3))
    music = [event for strain in study.strains for event in strain.music]
    while isinstance(music[-1], Rest):
        music.pop()
    silent = [sum(one.length for one in run) for rest, run in groupby(music, key=lambda one: isinstance(one, Rest)) if rest]
    assert max(silent, default=NONE) <= study.strains[0].meter.bar * 2 / 3
    assert silent or int(bars) < 24


def test_sixteen_bars_are_shaded_by_eight() -> None:
    """A section of sixteen bars has a dynamic of its own in each half."""
    made = (study_of(EtudeRequest(kind="march", seed=seed)) for seed in range(20))
    study = next(one for one in made if [16, 16] == [bars_of(strain) for strain in one.strains])
    halves = [(strain.notes[: len(strain.notes) // 2], strain.notes[len(strain.notes) // 2 :]) for strain in study.strains]
    loud = [note.dynamic for strain in study.strains for note in strain.notes if note.dynamic]

    assert all(any(note.dynamic for note in half) for both in halves for half in both)
    assert len(loud) > 2 * len(study.strains)


def test_loudness_is_the_grades() -> None:
    """A learner's tune is no louder and no softer than the grade allows, and no hairpin goes over a rest."""
    for kind in ("song", "march", "fanfare", "dance"):
        study = make(EtudeRequest(kind=kind, grade="1", keys=("C",), bars="16", seed=5))
        assert {note.dynamic for note in study.notes} <= {"", "p", "mp", "mf", "f"}
        for strain in study.strains:
            under = False
            for event in strain.music:
                if isinstance(event, Note):
                    under = bool(event.hairpin.strip(".")) or (under and not event.dynamic)
                else:
                    assert not under
