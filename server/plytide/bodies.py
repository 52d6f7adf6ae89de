"""What the body of an entry can be: one model a kind. plytide/entries.py puts the envelope round it.

Units: heights 0 (tip of the limb) to 1 (socket brim); angles in degrees, 0 front, 90 outer, 180 back, 270 inner;
ply totals are whole numbers; temperatures in degrees Celsius; dates YYYY-MM-DD.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

TEXT_MAX = 2000
PLY_MAX = 40

Limb = Literal["left", "right"]
Height = Annotated[float, Field(ge=0, le=1, allow_inf_nan=False)]
Angle = Annotated[float, Field(ge=0, lt=360, allow_inf_nan=False)]
Score = Annotated[int, Field(ge=0, le=10)]
Ply = Annotated[int, Field(ge=0, le=PLY_MAX)]
Text = Annotated[str, StringConstraints(max_length=TEXT_MAX)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=120)]
Id = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$")]
DayDate = Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")]
Minutes = Annotated[float, Field(ge=0, le=1440, allow_inf_nan=False)]
Millimetres = Annotated[float, Field(ge=0, le=2000, allow_inf_nan=False)]
Centimetres = Annotated[float, Field(gt=0, le=200, allow_inf_nan=False)]


class Body(BaseModel):
    """Common ground of all bodies: unknown fields are kept, numbers are never guessed from text."""

    model_config = ConfigDict(extra="allow", strict=True)


class Ply_(Body):
    """Sock ply after a change. Absolute, so a tap that gets lost harms one step only."""

    total: Ply
    socks: list[Id] | None = None  # inner first
    why: Literal["loose", "end_pressure", "tight", "cannot_seat", "planned", "hot", "rest", "other"] | None = None


class Don(Body):
    """The prosthesis goes on. `clicks`: how deep a pin lock seated."""

    total: Ply | None = None
    socks: list[Id] | None = None
    clicks: Annotated[int, Field(ge=0, le=60)] | None = None


class Doff(Body):
    """The prosthesis comes off."""


class Adjust(Body):
    """A socket fitted by other means than socks: signed steps, or a reading with its unit."""

    what: Literal["dial", "strap", "vacuum", "air_bladder", "pad"]
    by: Annotated[int, Field(ge=-99, le=99)] | None = None
    reading: Annotated[float, Field(ge=-10000, le=10000, allow_inf_nan=False)] | None = None
    unit: Annotated[str, StringConstraints(max_length=20)] | None = None


class Sore(Body):
    """A sore place on the limb's surface; with `phantom` it is felt where the leg no longer is."""

    height: Height
    angle: Angle
    intensity: Score
    feel: Literal["pressure", "rub", "pinch", "burn", "sharp", "throb", "numb"] | None = None
    phantom: bool = False


FindingKind = Literal[
    "redness", "blister", "broken_blister", "open", "drainage", "smell", "hot", "swollen", "spreading", "purple",
    "black", "pale_cold", "cold_wet_end", "rash", "thickened", "itch", "numb", "weak",
]  # fmt: skip

Unwell = Literal[
    "vomiting", "confusion", "fast_heart", "fast_breathing", "faint", "chest_pain", "short_breath", "coughing_blood",
    "severe_pain",
]  # fmt: skip


class Finding(Body):
    """One thing seen or felt on the skin. `height` and `angle` are null where it is the whole limb."""

    what: FindingKind
    height: Height | None = None
    angle: Angle | None = None
    fade_min: Minutes | None = None
    still_red: bool = False
    blanches: bool | None = None
    size_mm: Millimetres | None = None


class Skin(Body):
    """A look at the skin. `clear` with no findings is an entry too: it says that someone looked.

    `end_unseen`: the end of the limb could not be looked at, so that what is said is of the rest.
    """

    clear: bool
    end_unseen: bool = False
    findings: Annotated[list[Finding], Field(max_length=50)] = []
    fever_c: Annotated[float, Field(ge=30, le=45, allow_inf_nan=False)] | None = None
    unwell: Annotated[list[Unwell], Field(max_length=20)] = []


class Comfort(Body):
    """Socket comfort, 0 worst imaginable to 10 best."""

    score: Score


class Mishap(Body):
    """Something went wrong with the leg or on the way."""

    what: Literal[
        "suction_lost", "valve_opened", "sleeve_leak", "wet", "twisted", "part_failed", "cannot_don", "stumble", "fall"
    ]
    hurt: bool = False
    head: bool = False
    cannot_stand: bool = False
    note: Text = ""


class Change(Body):
    """A change to socket or components: it begins a new fit period."""

    what: Literal[
        "new_socket", "test_socket", "socket_adjusted", "relief_added", "padding", "liner", "suspension", "foot",
        "other",
    ]  # fmt: skip
    height: Height | None = None
    angle: Angle | None = None
    note: Text = ""


class GirthMark(Body):
    """One level of the tape: distance from the limb's end and girth there, in cm."""

    from_end_cm: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
    girth_cm: Centimetres


class Girth(Body):
    """A set of tape measurements, and who took them."""

    marks: Annotated[list[GirthMark], Field(min_length=1, max_length=40)]
    by: Literal["self", "clinic"]


class Day(Body):
    """What kind of day it was; one a day, for no limb in particular."""

    tags: Annotated[
        list[
            Literal[
                "hot", "long_sitting", "long_walk", "travel", "water", "ill", "dialysis", "salty", "period", "other"
            ]
        ],
        Field(max_length=20),
    ]


class Activity(Body):
    """What was done on the leg, in the words that the functional levels use."""

    what: Literal["level", "stairs", "curbs", "uneven", "slopes", "varied_pace", "run", "carry", "sport", "work"]
    minutes: Minutes | None = None


class Sock(Body):
    """A sock (or `count` alike) that the wearer owns. `mark` is the wearer's own label, never a colour code."""

    name: Name
    ply: Annotated[int, Field(ge=0, le=10)]
    count: Annotated[int, Field(ge=0, le=99)] = 1
    mark: Annotated[str, StringConstraints(max_length=60)] = ""
    pin_hole: bool = False
    state: Literal["ready", "wash", "worn_out"] = "ready"


class Need(Body):
    """What the wearer asks of the next socket; `firm` means not to be traded."""

    text: Text
    firm: bool = False
    order: Annotated[int, Field(ge=0, le=10000)] = 0


class Question(Body):
    """A question for the appointment."""

    text: Text
    order: Annotated[int, Field(ge=0, le=10000)] = 0


class Option(Body):
    """A way to go for the next socket, set against the needs (by their ids)."""

    name: Name
    kind: Literal["socket", "suspension", "liner", "foot", "cover"]
    meets: Annotated[dict[Id, Literal["yes", "partly", "no", "ask"]], Field(max_length=100)] = {}
    note: Text = ""


class Trip(Body):
    """A day to pack for."""

    date: DayDate
    hours: Annotated[float, Field(gt=0, le=48, allow_inf_nan=False)]
    water: bool = False
    note: Text = ""


class Visit(Body):
    """An appointment with the clinic."""

    on: DayDate
    clinic: Annotated[str, StringConstraints(max_length=200)] = ""
    purpose: Text = ""


class TenderPlace(Body):
    """A place the wearer or the clinic wants watched."""

    height: Height
    angle: Angle
    name: Annotated[str, StringConstraints(max_length=120)] = ""


class LimbProfile(Body):
    """One limb: where it ends and how its socket holds on and is fitted."""

    side: Limb
    level: Literal["transtibial", "transfemoral", "knee_disarticulation"]
    amputated_on: DayDate | None = None
    suspension: Annotated[
        list[Literal["suction_valve", "seal_liner", "sleeve", "pin_lock", "lanyard", "vacuum_pump", "straps"]],
        Field(max_length=10),
    ] = []
    fitted_by: Annotated[
        list[Literal["socks", "dial", "strap", "vacuum", "air_bladder", "pads"]], Field(max_length=10)
    ] = ["socks"]
    end_bearing: bool = False
    tender: Annotated[list[TenderPlace], Field(max_length=50)] = []
    functional_level: Literal["K0", "K1", "K2", "K3", "K4"] | None = None
    length_cm: Centimetres | None = None
    girths: Annotated[list[GirthMark], Field(max_length=40)] = []


class BreakInStep(Body):
    """One step of a break-in plan as the clinic gave it."""

    minutes: Minutes
    times: Annotated[int, Field(ge=1, le=12)] = 1
    days: Annotated[int, Field(ge=1, le=60)] = 1


class Profile(Body):
    """The wearer's own settings; the latest one stands. Limits are the clinic's: see the defaults' sources in data/."""

    name: Annotated[str, StringConstraints(max_length=120)] = ""
    limbs: Annotated[list[LimbProfile], Field(max_length=2)] = []
    ply_watch: Ply = 8
    ply_review: Ply = 10
    ply_ceiling: Ply = 11
    layers_max: Annotated[int, Field(ge=1, le=10)] = 3
    fade_limit_min: Annotated[float, Field(ge=1, le=120, allow_inf_nan=False)] | None = None  # null: the default
    higher_risk: Annotated[
        list[Literal["diabetes", "circulation", "feeling", "immunity", "dialysis", "blood_thinner"]],
        Field(max_length=10),
    ] = []
    day_starts: Annotated[int, Field(ge=0, le=12)] = 4
    units: Literal["metric", "us"] = "metric"
    clinic_phone: Annotated[str, StringConstraints(max_length=60)] = ""
    emergency_phone: Annotated[str, StringConstraints(max_length=60)] = ""
    weeks_to_appointment: Annotated[float, Field(ge=0, le=104, allow_inf_nan=False)] = 3
    weeks_to_socket: Annotated[float, Field(ge=0, le=104, allow_inf_nan=False)] = 6
    break_in: Annotated[list[BreakInStep], Field(max_length=100)] = []


class Told(Body):
    """The wearer told the clinic of a sign (its `code`); the sign stays listed, with this date."""

    code: Annotated[str, StringConstraints(min_length=1, max_length=60)]
    note: Text = ""


class Note(Body):
    """Free words."""

    text: Text


BODIES: dict[str, type[Body]] = {
    "ply": Ply_, "don": Don, "doff": Doff, "adjust": Adjust, "sore": Sore, "skin": Skin, "comfort": Comfort,
    "mishap": Mishap, "change": Change, "girth": Girth, "day": Day, "activity": Activity, "sock": Sock, "need": Need,
    "question": Question, "option": Option, "trip": Trip, "visit": Visit, "profile": Profile, "told": Told,
    "note": Note,
}  # fmt: skip

# Kinds that are about one limb: they name it, and insight reads them limb by limb.
LIMB_KINDS = frozenset({"ply", "don", "doff", "adjust", "sore", "skin", "comfort", "mishap", "change", "girth"})
