"""The page of plain text: whole, readable, and honest about what is missing."""

from insight.diary import Diary
from plytide.insight import plain, summarise


def page(diary, day, hour=23):
    return plain.page(summarise(diary.entries, diary.at(day, hour)), diary.entries)


def full_diary():
    diary = Diary(clinic_phone="0123 456")
    sock = diary.add(-1, 13, "sock", name="Blue thick", ply=5)
    for day in range(30):
        if day != 20:
            diary.worn(day, (7, 5), (13, 8))
            diary.sore(day)
            diary.skin(day)
    diary.add(10, 6, "change", what="liner")
    diary.add(30, 7, "don", total=5, socks=[sock])
    tape = [{"from_end_cm": 0, "girth_cm": 30}, {"from_end_cm": 15, "girth_cm": 30}]
    diary.add(5, 9, "girth", by="clinic", marks=tape)
    diary.add(6, 9, "activity", what="stairs")
    diary.sore(8, phantom=True)
    return diary


def test_the_page_has_every_part_that_has_something_to_say():
    said = page(full_diary(), 30)
    for words in (
        "as of 2 April 2031 23:00, Europe/Lisbon", "not verified, not a diagnosis", "LEFT LIMB",
        "[Review] Sore at the same place, since 3 March 2031.", "Tell your clinic (0123 456)",
        "Leg on: 5 ply (Blue thick, inner first)", "Outer bump below the knee (Fibular head): 29 days, 29 marks",
        "Phantom pain", "29 checks in half a year", "1074 mL between 0 and 15 cm", "K2  Stairs: 1 day, 1 week",
    ):  # fmt: skip
        assert words in said, words
    assert ["0", "5", "5", "5"] in [line.split() for line in said.splitlines()], "a range without width is one number"


def test_a_day_without_a_log_says_so_and_has_no_zeros():
    [line] = [line for line in page(full_diary(), 30).splitlines() if line.startswith("  23 March")]
    assert line.split() == ["23", "March", "no", "log"]


def test_no_line_is_wider_than_a_sheet_and_there_is_no_percentage():
    said = page(full_diary(), 30)
    assert max(map(len, said.splitlines())) <= 80
    assert "%" not in said
    assert "None" not in said.replace("None.", "")


def test_a_part_that_is_silent_gives_its_reason():
    diary = Diary()
    diary.worn(0)
    said = page(diary, 0)
    usual = summarise(diary.entries, diary.at(0, 23))["limbs"]["left"]["usual"]
    assert usual["reason"] in said
    assert "No skin check is logged." in said


def test_a_log_without_a_limb_is_a_short_page():
    diary = Diary()
    said = plain.page(summarise([], diary.at(0, 0)))
    assert "No limb has an entry yet." in said


def test_a_sign_at_night_is_dated_by_the_wearers_clock():
    diary = Diary(zone="Pacific/Auckland")
    diary.skin(0, "open", hour=9)
    assert "Open skin, since 3 March 2031." in page(diary, 0)


def test_a_wearer_without_socks_gets_the_dial_in_every_part_and_no_empty_columns():
    diary = Diary(limb={"fitted_by": ["dial"]})
    for day in range(40):
        diary.add(day, 7, "don")
        diary.add(day, 9, "adjust", what="dial", by=8 if day > 34 else 3 + day % 2)
        diary.add(day, 21, "doff")
    diary.add(12, 6, "change", what="liner")
    said = page(diary, 39)
    for words in (
        "[Review] Fitting has shifted", "No ply is logged of this limb.", "Dial: 28 days of this fit, latest 8.",
        "Usual since the leg went on: 0 at 0 h", "Daily peak +", "Sudden shift by about 4.5 up on 7 April 2031.",
    ):  # fmt: skip
        assert words in said, words
    assert "Not enough days" not in said
    rows = [line.split() for line in said.splitlines()]
    assert ["Dial", "3.5", "4", "0", "0", "to", "1", "12,", "24"] in rows, "before and after the liner"
    assert ["Day", "Dial", "Hours"] in rows
    assert ["11", "April", "8", "14", "still", "running"] in rows


def test_a_sudden_shift_is_dated_and_asked_about_and_a_quiet_spot_is_not_called_healed():
    diary = Diary()
    for day in range(34):
        diary.worn(day, (7, 7 if day < 20 else 2), (13, 10 if day < 20 else 5))
        if day in (15, 17, 19):
            diary.sore(day)
    said = " ".join(page(diary, 33).split())
    assert "ply down by about 5. Was the socket changed around then?" in said
    assert "22 March 2031, no mark on 7 or more worn days since." in said
    assert "healed" not in said


def test_falls_of_both_legs_are_said_once_before_either():
    diary = Diary()
    for day, side in ((0, "left"), (3, "right")):
        diary.add(day, 12, "mishap", what="fall", limb=side)
    said = page(diary, 3)
    assert said.index("You entered 2 falls within a year.") < said.index("LEFT LIMB") < said.index("RIGHT LIMB")


def test_a_limb_of_which_nothing_is_logged_says_only_that():
    assert page(Diary(), 0).splitlines()[4:] == ["LEFT LIMB", "=========", "", "Nothing is logged of this limb yet."]
