"""The trade's warning signs, row by row: which of our signs says each, or why entries cannot show it.

A row is a thing that handouts, health services and papers name as a reason to act (their names stand beside each rule
in data/signs.json), at the level they give it; with a star it is one level up for wearers at higher risk. Every row
that has an entry is entered here, and every sign of the table is met by some row. Entries cannot show these:

- crackling under the skin: only a hand that presses can tell;
- a new deformity after a fall: it is entered as a fall that hurt, or as not being able to stand;
- bleeding that will not stop: nobody opens a logbook then; open skin is what is entered after;
- deeper tissue visible, a wound reopened: they are entered as open skin;
- boils: they are entered as redness, as hot skin or as pus;
- weight: no scale is asked for; ply, the dial and the tape show what it does to the limb.
"""

from functools import cache

import pytest
from insight.diary import Diary
from plytide.insight import rules, summarise
from plytide.insight.signs.found import MOST

LAST = 40  # the evening as of which every diary is read


def check(*findings, **more):
    return lambda d: d.skin(LAST, *findings, **more)


def mark(**more):
    return check({"what": "redness", "height": 0.5, "angle": 10.0, **more})


def mishap(what, *days, **flags):
    def enter(d):
        for day in days or (LAST,):
            d.add(day, 8, "mishap", what=what, **flags)

    return enter


def ply(value):
    """Days of wear whose peak is what `value` says of each day."""

    def enter(d):
        for day in range(LAST):
            d.worn(day, (7, 3), (13, value(day)))

    return enter


def both(*enters):
    return lambda d: [enter(d) for enter in enters]


def daily(kind, value, **more):
    def enter(d):
        for day in range(LAST + 1):
            if kind == "sore":  # far apart, so that no spot is in question
                d.sore(day, 20, (0.15 + 0.7 * (day % 5) / 5, (day * 67) % 360), value(day))
            else:
                d.add(day, 20, kind, **{name: value(day) for name in more} or {"score": value(day)})

    return enter


def after_ply(enter):
    """Something entered on the last two days after ply was added."""

    def entered(d):
        for day in (LAST - 1, LAST):
            d.add(day, 7, "don", total=3)
            d.add(day, 10, "ply", total=5)
            enter(d, day)

    return entered


def kneecap(d, day):
    d.sore(day, 14, (0.83, 0))


def dialled(d):
    for day in range(LAST):
        d.add(day, 7, "don")
        d.add(day, 9, "adjust", what="dial", by=9 if day > LAST - 6 else 3 + day % 2)
        d.add(day, 21, "doff")


def hours(d):
    for day in range(LAST):
        d.worn(day, (7, 5), off=14 + day % 2 if day > LAST - 8 else 21 + day % 2)


def tape(d):
    for day, girth in ((0, 30.0), (LAST - 1, 31.6), (LAST, 31.7)):
        d.add(day, 9, "girth", marks=[{"from_end_cm": 5, "girth_cm": girth}], by="self")


def again(d):
    for day in range(LAST - 2, LAST + 1):
        d.skin(day, {"what": "redness", "height": 0.5, "angle": 10.0, "fade_min": 5})


def sore_there(d):
    for day in range(LAST - 3, LAST):
        d.sore(day, place=(0.5, 10))
    d.skin(LAST, {"what": "redness", "height": 0.5, "angle": 10.0, "fade_min": 5})


# (row, star), what of it, the sign that says it, how it is entered
EMERGENCY = [
    ("short breath, chest, collapse", "short breath", "chest_breath", check(unwell=["short_breath"])),
    ("", "chest pain", "chest_breath", check(unwell=["chest_pain"])),
    ("", "coughing blood", "chest_breath", check(unwell=["coughing_blood"])),
    ("", "collapse", "chest_breath", check(unwell=["faint"])),
    ("severe pain and no blood or feeling", "pale or cold", "blood_supply", check("pale_cold", unwell=["severe_pain"])),
    ("", "numb", "blood_supply", check("numb", unwell=["severe_pain"])),
    ("", "weak", "blood_supply", check("weak", unwell=["severe_pain"])),
    ("spreading fast, or fever with illness", "spreading", "spreading", check("spreading")),
    ("", "fever with vomiting", "fever_unwell", check(fever_c=38.0, unwell=["vomiting"])),
    ("", "fever with confusion", "fever_unwell", check(fever_c=38.0, unwell=["confusion"])),
    ("", "fever with a fast heart", "fever_unwell", check(fever_c=38.0, unwell=["fast_heart"])),
    ("", "fever with fast breathing", "fever_unwell", check(fever_c=38.0, unwell=["fast_breathing"])),
    ("", "infected skin and illness", "skin_unwell", check("drainage", unwell=["confusion"])),
    ("pain out of proportion, black skin", "pain", "severe_pain_skin", check("redness", unwell=["severe_pain"])),
    ("", "black or grey", "black_skin", check("black")),
    ("", "purple blisters", "black_skin", check("purple", "blister")),
    ("a fall with more", "head strike", "fall_head", mishap("fall", head=True)),
    ("", "cannot stand", "fall_head", mishap("fall", cannot_stand=True)),
    ("", "on blood thinners", "fall_blood_thinner", mishap("fall")),
]  # fmt: skip
SAME_DAY = [
    ("hot, swollen, pus, smell or fever *", "hot", "infection", check("hot")),
    ("", "pus", "infection", check("drainage")),
    ("", "smell", "infection", check("smell")),
    ("", "fever", "fever", check(fever_c=38.0)),
    ("", "painful", "severe_pain", check(unwell=["severe_pain"])),
    ("", "ill", "unwell", check(unwell=["vomiting"])),
    ("new swelling not explained", "swelling", "swelling", check("swollen")),
    ("open sore, burst blister *", "open", "open_skin", check("open")),
    ("", "burst blister", "open_skin", check("broken_blister")),
    ("purple, or does not pale when pressed *", "purple", "deep_mark", check("purple")),
    ("", "does not pale", "deep_mark", mark(fade_min=5, blanches=False)),
    ("choked end", "cold and wet", "choke", check("cold_wet_end")),
    ("", "pale or cold", "pale_cold", check("pale_cold")),
    ("", "swelling after adding socks", "swelling_after_socks", after_ply(lambda d, day: d.skin(day, "swollen"))),
    ("cannot get the limb on, with more", "pain", "cannot_don_hurt", mishap("cannot_don", hurt=True)),
    ("", "colour change", "cannot_don_unwell", both(mishap("cannot_don"), check("purple"))),
    ("", "illness", "cannot_don_unwell", both(mishap("cannot_don"), lambda d: d.add(LAST, 9, "day", tags=["ill"]))),
    ("a fall that hurt the limb", "hurt", "fall_hurt", mishap("fall", hurt=True)),
]  # fmt: skip
REVIEW = [
    ("red marks longer than the limit *", "21 minutes", "redness_long", mark(fade_min=21)),
    ("", "still red", "redness_long", mark(still_red=True)),
    ("blister, rash, thickened, itch", "intact blister", "blister", check("blister")),
    ("", "rash", "rash", check("rash")),
    ("", "itch", "rash", check("itch")),
    ("", "thickened or warty", "thickened", check("thickened")),
    ("", "numb or weak alone", "numb_weak", check("numb")),
    ("ply at the review limit, or a rise", "most days of a week", "ply_review", ply(lambda day: 10)),
    ("", "a rise towards the ceiling", "ply_review", ply(lambda day: 4 + day // 8)),
    ("comfort or pain, a week", "comfort by 3", "comfort_down", daily("comfort", lambda day: 8 if day < 34 else 4)),
    ("", "pain by 2 points", "pain_up", daily("sore", lambda day: 3 if day < 34 else 6)),
    ("not cured by ply", "kneecap", "deep_pressure", after_ply(lambda d, day: d.sore(day, 14, (0.83, 0)))),
    ("", "rotation", "movement", after_ply(lambda d, day: d.add(day, 14, "mishap", what="twisted"))),
    ("the same spot sore on several days", "three days", "spot_again", lambda d: [d.sore(day) for day in (36, 38, 40)]),
    ("falls and suction", "a fall", "fall", mishap("fall")),
    ("", "near falls", "near_falls", mishap("stumble", 36, 39)),
    ("", "two falls in a year", "falls_year", mishap("fall", 1, 40)),
    ("", "suction lost again and again", "suction_again", mishap("suction_lost", 36, 38, 40)),
    ("", "a part that failed", "part_failed", mishap("part_failed")),
    ("cannot don two mornings; clear weight change", "two mornings", "cannot_don_again", mishap("cannot_don", 39, 40)),
    ("", "much more ply", "limb_smaller", ply(lambda day: 9 if day > LAST - 6 else 5)),
    ("", "much less ply", "limb_bigger", ply(lambda day: 4 if day > LAST - 6 else 8)),
    ("", "much more on the dial", "fitting_shift", dialled),
    ("", "girth", "girth_change", tape),
]  # fmt: skip
WATCH = [
    ("pink that fades", "within the limit", "pink", mark(fade_min=20)),
    ("", "again and again", "skin_again", again),
    ("", "where it is sore", "skin_at_sore", sore_there),
    ("ordinary swing", "a hot day", "swing", lambda d: d.add(LAST, 9, "day", tags=["hot"])),
    ("", "a heavy, salty meal", "swing", lambda d: d.add(LAST, 9, "day", tags=["salty"])),
    ("", "ply from the watch limit on", "ply_watch", lambda d: d.worn(LAST, (7, 8))),
    ("", "cannot don once", "cannot_don", mishap("cannot_don")),
    ("", "comfort by 2", "comfort_possible", daily("comfort", lambda day: 8 if day < 34 else 6)),
    ("", "fewer hours", "wear_falling", hours),
    ("", "nobody looked", "no_check", lambda d: d.worn(LAST - 5)),
]  # fmt: skip
ROWS = [
    (level, *row)
    for level, rows in zip(rules.LEVELS, (EMERGENCY, SAME_DAY, REVIEW, WATCH), strict=True)
    for row in rows
]


@cache
def met(index, *risks):
    """The sign that a row's diary meets, for a wearer with these risks."""
    _, _, _, code, enter = ROWS[index]
    diary = Diary(higher_risk=[*risks, *(["blood_thinner"] if code == "fall_blood_thinner" else [])])
    enter(diary)
    summary = summarise(diary.entries, diary.at(LAST, 23))
    found = [*summary["signs"], *(sign for limb in summary["limbs"].values() for sign in limb["signs"])]
    return {entry.id for entry in diary.entries}, {sign["code"]: sign for sign in found}


@pytest.mark.parametrize("index", range(len(ROWS)), ids=[f"{row[0]}: {row[2]}, {row[3]}" for row in ROWS])
def test_the_row_is_said_at_its_level_and_names_the_entries_it_rests_on(index):
    level, _, _, code, _ = ROWS[index]
    known, found = met(index)
    assert code in found, f"not said; these are: {sorted(found)}"
    sign = found[code]
    assert sign["level"] == level
    assert sign["source"]
    assert 0 < len(sign["evidence"]) <= MOST
    assert set(sign["evidence"]) <= known


def test_the_rows_with_a_star_are_one_level_up_for_wearers_at_higher_risk():
    row = ""
    for index, (level, name, _, code, _) in enumerate(ROWS):
        row = name or row
        if rules.rules()[code]["higher_risk"]:
            assert row.endswith("*"), code
            up = rules.LEVELS[rules.LEVELS.index(level) - 1]
            assert met(index, "diabetes")[1][code]["level"] == up, code


def test_every_sign_of_the_table_is_met_by_a_row():
    assert {row[3] for row in ROWS} == set(rules.rules())
