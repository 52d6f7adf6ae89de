"""Which leg, which socks, and sockets fitted by other means: the same screen for each."""

from __future__ import annotations

import re

from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.limb_steps import stored
from browser.phone import fresh, separate_taps, shows, tap
from playwright.sync_api import Page, expect

LEFT = {"side": "left", "level": "transtibial", "fitted_by": ["socks"]}
RIGHT = {"side": "right", "level": "transfemoral", "fitted_by": ["vacuum"]}


def test_two_limbs_are_two_sides_of_the_same_screen(new_phone: NewPhone) -> None:
    wearer = Wearer(limbs=[LEFT, RIGHT])
    wearer.add(0, 8, "don", limb="left", total=5)
    wearer.add(0, 8, "don", limb="right")
    wearer.add(-1, 22, "skin", limb="left", clear=False, findings=[{"what": "blister"}])
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    expect(phone.get_by_role("region", name="Review. A blister, left leg")).to_be_visible()
    side = phone.get_by_role("radiogroup", name="Which side")
    side.get_by_role("radio", name="Left").check(force=True)
    shows(phone, 5)
    tap(phone, 1)
    side.get_by_role("radio", name="Right").check(force=True)
    shows(phone, 0)
    expect(phone.locator(".say")).to_have_text("vacuum steps from the start.")
    tap(phone, 2, "1 step more")
    shows(phone, 2)
    assert len(stored(phone, "adjust")) == 1  # it is kept by now
    phone.reload()
    shows(phone, 2)  # the phone remembers which leg it showed
    assert [(e["limb"], e["body"]["total"]) for e in stored(phone, "ply")] == [("left", 6)]
    assert [(e["limb"], e["body"]) for e in stored(phone, "adjust")] == [("right", {"what": "vacuum", "by": 2})]


def test_steps_looser_and_tighter_are_counted_from_where_the_day_began(new_phone: NewPhone) -> None:
    wearer = Wearer(limbs=[{**LEFT, "fitted_by": ["dial"]}])
    wearer.limb = "left"
    wearer.add(-1, 9, "adjust", what="dial", by=7)  # another day's turns are not today's
    wearer.add(0, 8, "don")
    wearer.add(0, 9, "adjust", what="dial", by=3)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    shows(phone, 3)
    expect(phone.locator(".say")).to_have_text("dial steps tighter than at the start.")
    expect(phone.get_by_role("img", name=re.compile("^Steps since 08:00: 3"))).to_be_visible()
    tap(phone, 5, "1 step looser")
    shows(phone, 2)
    expect(phone.locator(".say")).to_have_text("dial steps looser than at the start.")
    expect(phone.locator(".undo")).to_contain_text("Last: 5 steps looser")
    assert [e["body"]["by"] for e in stored(phone, "adjust")] == [7, 3, -5]


def test_a_socket_with_socks_and_a_dial_counts_both(new_phone: NewPhone) -> None:
    wearer = Wearer(limbs=[{**LEFT, "fitted_by": ["socks", "dial"]}])
    wearer.limb = "left"
    wearer.worn(0, (8, 5), off=None)
    wearer.add(0, 9, "adjust", what="dial", by=2)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    shows(phone, 5)
    expect(phone.locator(".say")).to_contain_text("And 2 dial steps tighter than at the start.")
    phone.get_by_role("radiogroup", name="What you count").get_by_role("radio", name="Dial").check(force=True)
    shows(phone, 2)
    expect(phone.locator(".say")).to_contain_text("And 5 ply on.")


def on(page: Page) -> list[str]:
    """The stack as the list of the screen says it, outermost first."""
    return [
        row.inner_text().split("\n")[0]
        for row in page.get_by_role("list", name="On, outer first").get_by_role("listitem").all()
    ]


def test_other_sock_says_which_socks_are_on(new_phone: NewPhone) -> None:
    wearer = Wearer()
    five, three, one = wearer.drawer()
    wearer.add(0, 8, "don", total=5, socks=[five])
    wearer.add(0, 10, "ply", total=8, socks=[five, three])
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.get_by_role("link", name="Other sock").click()
    expect(phone.get_by_role("heading", level=1, name="Which socks are on?")).to_be_visible()
    assert on(phone) == ["3 ply", "5 ply"]
    phone.get_by_role("button", name="Take away 3 ply").click()
    add = phone.get_by_role("list", name="Add as the outermost")
    add.get_by_role("button", name=re.compile("^1 ply")).click()
    add.get_by_role("button", name=re.compile("^1 ply")).click()
    expect(add.get_by_role("button", name=re.compile("^1 ply"))).to_have_count(0)  # there are two, and both are on
    phone.get_by_role("button", name="7 ply on").click()
    shows(phone, 7)
    expect(phone.locator(".undo")).to_contain_text("Last: 1 ply off")
    expect(phone.get_by_text("On, outer first: 1 ply, 1 ply, 5 ply.")).to_be_attached()
    assert stored(phone, "ply")[-1]["body"] == {"total": 7, "socks": [five, one, one]}


def test_more_socks_at_once_than_the_clinic_wants_are_pointed_out_and_still_logged(new_phone: NewPhone) -> None:
    wearer = Wearer(layers_max=2)
    five, _, one = wearer.drawer()
    wearer.add(0, 8, "don", total=6, socks=[five, one])
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.get_by_role("link", name="Other sock").click()
    phone.get_by_role("list", name="Add as the outermost").get_by_role("button", name=re.compile("^3 ply")).click()
    expect(phone.get_by_text("3 socks at once; your clinic’s most is 2.")).to_be_visible()
    phone.get_by_role("button", name="9 ply on").click()
    shows(phone, 9)


def test_naming_the_socks_of_a_total_that_had_none_is_no_new_change(new_phone: NewPhone) -> None:
    wearer = Wearer()
    five, _, one = wearer.drawer()
    wearer.worn(0, (8, 5), (12, 6), off=None)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    expect(phone.get_by_text("Which socks they are is not said.")).to_be_visible()
    phone.get_by_role("link", name="Other sock").click()
    add = phone.get_by_role("list", name="Add as the outermost")
    add.get_by_role("button", name=re.compile("^5 ply")).click()
    add.get_by_role("button", name=re.compile("^1 ply")).click()
    phone.get_by_role("button", name="6 ply on").click()
    shows(phone, 6)
    assert [e["body"] for e in stored(phone, "ply")] == [{"total": 6, "socks": [five, one]}]


def test_other_socks_are_put_on_in_the_morning(new_phone: NewPhone) -> None:
    wearer = Wearer()
    five, _, one = wearer.drawer()
    wearer.worn(-1, (8, 5), (12, 9))
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.get_by_role("link", name="Other socks").click()
    add = phone.get_by_role("list", name="Add as the outermost")
    add.get_by_role("button", name=re.compile("^5 ply")).click()
    add.get_by_role("button", name=re.compile("^1 ply")).click()
    phone.get_by_role("button", name="Put on, 6 ply").click()
    shows(phone, 6)
    assert stored(phone, "don")[-1]["body"] == {"total": 6, "socks": [five, one]}


def test_without_a_drawer_the_total_alone_can_be_set(phone: Page) -> None:
    tap(phone, 4)
    separate_taps(phone)
    phone.get_by_role("link", name="Other sock").click()
    expect(phone.get_by_text("You have not said which socks you own.")).to_be_visible()
    phone.get_by_role("group", name="Total without names").get_by_role("button", name="1 ply on").click()
    phone.get_by_role("button", name="5 ply on", exact=True).click()
    shows(phone, 5)
    screen(phone, "stack/right", "Which socks are on?")
    phone.get_by_role("link", name="Say which socks you own").click()
    expect(phone.get_by_role("heading", level=1, name="Fit and socks")).to_be_visible()


def test_the_left_hand_finds_more_at_the_left(phone: Page) -> None:
    def left_of(name: str) -> float:
        box = phone.get_by_role("button", name=re.compile(f"^{name}")).bounding_box()
        assert box is not None
        return box["x"]

    fresh(phone)
    assert left_of("1 ply off") < left_of("1 ply on")
    screen(phone, "settings", "Settings")
    phone.get_by_role("radiogroup", name="The hand you tap with").get_by_role("radio", name="Left").check(force=True)
    screen(phone, "today", "")
    assert left_of("1 ply on") < left_of("1 ply off")
    phone.reload()
    fresh(phone)
    assert left_of("1 ply on") < left_of("1 ply off")
