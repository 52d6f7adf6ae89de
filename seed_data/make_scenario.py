"""Writes scenario.jsonl: about 120 days of one invented wearer. `python seed_data/make_scenario.py`

Maren Oddly is nobody. Her clinic does not exist, and her telephone numbers are from the range kept for fiction
(555-01xx). She has lost her right leg below the knee, wears a pin-lock liner with socks over it, and has outgrown one
socket. What happens, by day:

  0      the log begins, in a socket that takes more socks each week
  33     a blister bursts at the outer bump below the knee; the leg stays off for two days; on 36 the clinic makes room
  44-48  nothing is logged
  60     a new socket; five days of wearing it in
  70...  the front end of the shin is sore whenever she wears one ply less than usual, and well again when she does not
  78-80  a visit to her sister, one time zone west
  115... the outer bump is red for longer each evening, past her clinic's limit in the end: the clinic should see
  119    today, still going on; an appointment stands in three days
Everything is drawn from one seed: the same bytes each time.
"""

from __future__ import annotations

import json
import random
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from plytide.ids import uuid7

FIRST = date(2025, 5, 16)
DAYS = 120
HOME, SISTER = "America/Chicago", "America/Denver"
DEVICE = "0dd1e5c0"
SEED = 1847

OFF_DAYS = (34, 35)
UNLOGGED = range(44, 49)
TRAVEL = range(78, 81)
NEW_SOCKET = 60
WEARING_IN = {60: 1.0, 61: 2.0, 62: 4.0, 63: 6.0, 64: 9.0}  # hours, as her clinic gave them
LOW_PLY = (70, 71, 73, 84, 85, 97, 98, 99, 108, 110)
NO_DOFF = (12, 27, 55, 81, 104)  # she fell asleep over the log
NO_CHECK = (5, 19, 30, 52, 66, 79, 80, 93, 106)
TAGS = {
    9: ["hot"], 10: ["hot"], 21: ["long_walk"], 40: ["salty"], 50: ["hot"], 51: ["hot", "long_sitting"],
    67: ["long_walk"], 75: ["hot"], 78: ["travel", "long_sitting"], 80: ["travel"], 88: ["water"], 101: ["ill"],
    102: ["ill"], 112: ["hot"], 113: ["hot"],
}  # fmt: skip
MISHAPS: dict[int, dict[str, Any]] = {
    17: {"what": "twisted", "note": "Foot turned out on the stairs at the market."},
    42: {"what": "stumble"},
    76: {"what": "wet", "note": "Liner soaked in the afternoon heat."},
    90: {"what": "fall", "note": "Slipped on gravel behind the stall. Scraped hand, nothing else."},
    103: {"what": "twisted"},
}
FINDINGS: dict[int, list[dict[str, Any]]] = {
    31: [{"what": "redness", "height": 0.7, "angle": 110, "fade_min": 22}],
    32: [{"what": "blister", "height": 0.7, "angle": 109, "size_mm": 9}],
    33: [{"what": "broken_blister", "height": 0.7, "angle": 109, "size_mm": 10}],
    34: [{"what": "broken_blister", "height": 0.7, "angle": 109, "size_mm": 8}],
    35: [{"what": "redness", "height": 0.7, "angle": 109, "fade_min": 15}],
    115: [{"what": "redness", "height": 0.69, "angle": 106, "fade_min": 12}],
    116: [{"what": "redness", "height": 0.7, "angle": 107, "fade_min": 18}],
    117: [{"what": "redness", "height": 0.69, "angle": 108, "fade_min": 24}],
    118: [{"what": "redness", "height": 0.7, "angle": 107, "fade_min": 31, "blanches": True}],
    119: [{"what": "redness", "height": 0.69, "angle": 107, "fade_min": 28, "blanches": True}],
}
OUTER_BUMP = {30: 3, 31: 4, 32: 5, 33: 6, 116: 2, 117: 3, 118: 4, 119: 4}  # day: intensity
ACTIVITIES = ["level", "level", "stairs", "curbs", "uneven", "work", "work", "carry", "slopes", "varied_pace"]
SOCKS = {  # key: name, ply, count, mark, pin hole, state
    "1": ("Thin", 1, 4, "white, one stitch", True, "ready"),
    "2": ("Half", 2, 2, "two stitches", True, "ready"),
    "3": ("Everyday", 3, 4, "grey toe", True, "ready"),
    "5": ("Winter", 5, 3, "green thread", True, "ready"),
    "wash": ("Everyday", 3, 2, "grey toe", True, "wash"),
    "closed": ("Old three, no hole", 3, 1, "black thread", False, "ready"),
    "old": ("Winter, thin at the heel", 5, 1, "green thread, cut", True, "worn_out"),
}
STACKS = {
    0: "", 1: "1", 2: "2", 3: "3", 4: "31", 5: "5", 6: "51", 7: "52", 8: "53", 9: "531", 10: "55", 11: "551",
    12: "552",
}  # fmt: skip


class Book:
    """The scenario as it is being written."""

    def __init__(self) -> None:
        self.random = random.Random(SEED)
        self.lines: list[dict[str, Any]] = []
        self.socks = {key: self.add("sock", 0, 8 * 60 + n, limb=None, body=self._sock(*sock))["id"]
                      for n, (key, sock) in enumerate(SOCKS.items())}  # fmt: skip

    @staticmethod
    def _sock(name: str, ply: int, count: int, mark: str, pin_hole: bool, state: str) -> dict[str, Any]:
        return {"name": name, "ply": ply, "count": count, "mark": mark, "pin_hole": pin_hole, "state": state}

    def add(
        self, kind: str, day: int, minute: float, body: dict[str, Any] | None = None, limb: str | None = "right",
        old: dict[str, Any] | None = None, late_min: float = 0, erased: bool = False,
    ) -> dict[str, Any]:  # fmt: skip
        """One entry at a local time of a day. `old` is the entry that it puts right; `late_min` when it was typed."""
        zone = SISTER if day in TRAVEL else HOME
        at = datetime.combine(FIRST + timedelta(days=day), datetime.min.time(), ZoneInfo(zone))
        # Wall-clock arithmetic: 07:10 is 07:10, whatever the clocks did in the night.
        at = (at + timedelta(minutes=int(minute), seconds=self.random.randrange(60))).astimezone(UTC)
        ms = int(at.timestamp() * 1000)
        typed = ms + int(late_min * 60_000) + self.random.randrange(200, 900)
        entry = {
            "id": old["id"] if old else uuid7(ms, self.random.randbytes(10)), "kind": kind, "limb": limb,
            "at": old["at"] if old else at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "zone": zone,
            "stamp": f"{typed:012x}-0000-{DEVICE}", "erased": erased, "body": body or {},
        }  # fmt: skip
        self.lines.append(entry)
        return entry

    def wear(self, total: int) -> dict[str, Any]:
        """A ply total with the socks that make it."""
        return {"total": total, "socks": [self.socks[key] for key in STACKS[total]]}


def morning(day: int) -> float:
    """Ply on at the first donning, before rounding: it climbs in either socket, a little less each week."""
    if day < NEW_SOCKET:
        return 5.4 + 2.6 * day / NEW_SOCKET
    risen: float = (1 - 2.0 ** ((NEW_SOCKET - day) / 32)) / (1 - 2.0 ** ((NEW_SOCKET - DAYS) / 32))
    return 1.2 + 3.4 * risen


def one_day(book: Book, day: int) -> None:
    """A day with the leg on: donning, socks in and out, soreness, comfort, doffing, a look at the skin."""
    draw = book.random
    on = 6 * 60 + 50 + draw.gauss(0, 22)
    off = 21 * 60 + 50 + draw.gauss(0, 30)
    if day in WEARING_IN:
        on, off = 9 * 60.0, 9 * 60 + WEARING_IN[day] * 60
    if day == DAYS - 1:
        on, off = 7 * 60.0, 22 * 60.0
    low = day in LOW_PLY
    total = max(0, min(11, round(morning(day) + draw.gauss(0, 0.35)) - low))
    book.add("don", day, on, {**book.wear(total), "clicks": 6 + draw.choice([-1, 0, 0, 0, 1]) - low})

    hot = "hot" in TAGS.get(day, [])
    steps = [on + 60 * h + draw.gauss(0, 25) for h in ((1.6, 3.9, 6.8, 10.5) if hot else (2.3, 5.6, 9.4))]
    rests = day % 3 == 1 and day not in WEARING_IN and day != DAYS - 1
    if rests:  # twenty minutes without the leg at midday: some of what was lost comes back
        noon = 12 * 60 + 40 + draw.gauss(0, 20)
        steps = [minute for minute in steps if not noon - 15 < minute < noon + 45]
        book.add("doff", day, noon)
    ply: dict[str, Any] | None = None
    for n, minute in enumerate(steps):
        if rests and minute > noon:
            book.add("don", day, noon + 20 + draw.random() * 8, {**book.wear(max(0, total - 1)), "clicks": 6})
            total, rests = max(0, total - 1), False
        if minute > off - 40:
            break
        total = min(12, total + (2 if hot and n == 1 and total < 9 else 1))
        why = draw.choice(["loose", "loose", "end_pressure", None]) if total < 10 else "loose"
        ply = book.add("ply", day, minute, {**book.wear(total), "why": why})
    if ply and day in (23, 87):  # typed one too many, put right two minutes later
        book.add("ply", day, 0, book.wear(total - 1), old=ply, late_min=0)
        book.lines[-1]["stamp"] = f"{int(ply['stamp'][:12], 16) + 125_000:012x}-0000-{DEVICE}"

    if low:
        for hours in (3.1, 8.2)[: 1 + day % 2]:
            spot = {"height": round(draw.gauss(0.15, 0.012), 3), "angle": round(draw.gauss(2, 5)) % 360}
            feel = draw.choice(["pressure", "throb"])
            book.add("sore", day, on + hours * 60, {**spot, "intensity": draw.choice([3, 4, 4, 5, 6]), "feel": feel})
    if day in OUTER_BUMP:
        spot = {"height": round(draw.gauss(0.7, 0.008), 3), "angle": round(draw.gauss(108, 3))}
        book.add("sore", day, on + 6.4 * 60, {**spot, "intensity": OUTER_BUMP[day], "feel": "rub"})
    if day in (14, 62, 91):
        book.add("sore", day, 23 * 60, {"height": 0, "angle": 0, "intensity": 4, "feel": "burn", "phantom": True})
    if day in MISHAPS:
        book.add("mishap", day, 15 * 60 + 20, MISHAPS[day])
    if day % 2 == 0 or day in OUTER_BUMP:
        hurt = 2 * low + OUTER_BUMP.get(day, 0) // 2 + (total >= 10)
        book.add("comfort", day, 20 * 60 + draw.gauss(0, 30), {"score": max(1, min(10, draw.choice([7, 8, 8]) - hurt))})
    for minute in sorted(draw.sample(range(9 * 60, 19 * 60), k=draw.choice([0, 1, 1, 2]))):
        minutes = draw.choice([10, 15, 20, 30, 45])
        book.add("activity", day, minute, {"what": draw.choice(ACTIVITIES), "minutes": minutes}, limb=None)
    if day not in NO_DOFF:
        book.add("doff", day, off)
    if day not in NO_CHECK:
        look(book, day, off + 12)


def look(book: Book, day: int, minute: float) -> None:
    """The evening's look at the skin."""
    found = FINDINGS.get(day, [])
    if not found and (day in LOW_PLY or book.random.random() < 0.12):
        fade = book.random.choice([5, 6, 8, 9, 11])
        found = [{"what": "redness", "height": 0.15, "angle": 3, "fade_min": fade}]
    waited = found[0].get("fade_min", 2) if found else 1
    book.add("skin", day, minute + waited, {"clear": not found, "findings": found})


def girth(book: Book, day: int, by: str, shrunk_cm: float) -> None:
    """A tape from the end upwards."""
    tape = [(4, 25.8), (8, 29.4), (12, 31.9), (16, 33.2)]
    marks = [{"from_end_cm": at, "girth_cm": round(cm - shrunk_cm + book.random.gauss(0, 0.15), 1)} for at, cm in tape]
    book.add("girth", day, 10 * 60 + 35, {"marks": marks, "by": by})


def profile(break_in: list[dict[str, Any]]) -> dict[str, Any]:
    """Her settings; limits as her clinic gave them."""
    limb = {
        "side": "right", "level": "transtibial", "amputated_on": "2023-11-08", "suspension": ["pin_lock", "sleeve"],
        "fitted_by": ["socks"], "end_bearing": False, "functional_level": "K3", "length_cm": 16.5,
        "tender": [{"height": 0.7, "angle": 108, "name": "Outer bump"}], "girths": [],
    }  # fmt: skip
    return {
        "name": "Maren Oddly", "limbs": [limb], "ply_watch": 8, "ply_review": 10, "ply_ceiling": 11, "layers_max": 3,
        "fade_limit_min": 20, "higher_risk": [], "day_starts": 4, "units": "metric", "clinic_phone": "555-0142",
        "emergency_phone": "555-0100", "weeks_to_appointment": 2, "weeks_to_socket": 5, "break_in": break_in,
    }  # fmt: skip


def changes(book: Book) -> None:
    """What was done to the socket, the tapes that went with it, and the settings that changed."""
    first = book.add("profile", 0, 7 * 60 + 50, profile([]), limb=None)
    wearing_in = [{"minutes": hours * 60, "times": 1, "days": 1} for hours in WEARING_IN.values()]
    book.add("profile", 0, 0, profile(wearing_in), limb=None, old=first)
    book.lines[-1]["stamp"] = f"{int(first['stamp'][:12], 16) + NEW_SOCKET * 86_400_000:012x}-0000-{DEVICE}"
    room = "Clinic heated the wall and made room over the outer bump."
    book.add("change", 36, 11 * 60, {"what": "relief_added", "height": 0.7, "angle": 108, "note": room})
    note = "New socket from the cast of three weeks ago. Same liner, same pin."
    book.add("change", NEW_SOCKET, 8 * 60 + 40, {"what": "new_socket", "height": None, "angle": None, "note": note})
    for day, by, shrunk in ((3, "clinic", 0.0), (36, "clinic", 0.7), (NEW_SOCKET, "clinic", 1.1),
                            (112, "self", 1.6)):  # fmt: skip
        girth(book, day, by, shrunk)


def wishes(book: Book) -> None:
    """For the appointment: needs, questions, ways to go; and what stands in the calendar."""
    needs = [
        ("Stand at the stall for six hours without taking the leg off.", True),
        ("Kneel to load the van.", False),
        ("Put it on by myself in under five minutes.", True),
    ]
    ids = [
        book.add("need", 109, 20 * 60 + n, {"text": text, "firm": firm, "order": n}, limb=None)["id"]
        for n, (text, firm) in enumerate(needs)
    ]
    for n, text in enumerate([
        "Can the wall over the outer bump be eased again, or is the shape wrong?",
        "At how many ply would you rather see me than have me add another sock?",
        "Would a test socket come first next time?",
    ]):  # fmt: skip
        book.add("question", 109, 20 * 60 + 10 + n, {"text": text, "order": n}, limb=None)
    for n, (name, kind, meets) in enumerate([
        ("Ease this socket again", "socket", ["partly", "yes", "yes"]),
        ("Socket with a dial", "socket", ["yes", "ask", "yes"]),
        ("Vacuum instead of the pin", "suspension", ["yes", "partly", "no"]),
    ]):  # fmt: skip
        body = {"name": name, "kind": kind, "meets": dict(zip(ids, meets, strict=True)), "note": ""}
        book.add("option", 110, 20 * 60 + n, body, limb=None)
    soon, then = str(FIRST + timedelta(days=DAYS)), str(FIRST + timedelta(days=DAYS + 2))
    visit = {"on": then, "clinic": "Tern Street Limb Clinic", "purpose": "Fit and skin"}
    book.add("visit", 104, 12 * 60, visit, limb=None)
    trip = {"date": soon, "hours": 9, "water": False, "note": "Autumn market, standing all day"}
    book.add("trip", 117, 12 * 60 + 5, trip, limb=None)


def scenario() -> list[dict[str, Any]]:
    """Every line, in the order in which it was typed."""
    book = Book()
    changes(book)
    wishes(book)
    for day in range(DAYS):
        if day in UNLOGGED:
            continue
        if day in OFF_DAYS:
            look(book, day, 20 * 60 + 30)
            book.add("note", day, 20 * 60 + 40, {"text": "Leg off all day, as the clinic asked."}, limb=None)
        else:
            one_day(book, day)
        if day in TAGS:
            book.add("day", day, 21 * 60, {"tags": TAGS[day]}, limb=None)
    book.add("note", 49, 9 * 60, {"text": "Away with the choir, left the phone in the bag."}, limb=None)
    slip = book.add("note", 100, 9 * 60, {"text": "Buy onions"}, limb=None)
    book.add("note", 100, 9 * 60 + 1, slip["body"], limb=None, old=slip, late_min=1, erased=True)
    return sorted(book.lines, key=lambda line: (line["stamp"], line["id"]))


def text() -> str:
    """The file as it stands in the repository."""
    return "".join(json.dumps(line, ensure_ascii=False, separators=(",", ":")) + "\n" for line in scenario())


if __name__ == "__main__":
    Path(__file__).with_name("scenario.jsonl").write_text(text(), encoding="utf-8")
