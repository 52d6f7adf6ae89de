"""Today's big buttons: each tap is an entry at once, can be taken back where it was made, and put right later."""

from __future__ import annotations

import re

from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.limb_steps import stored
from browser.phone import fresh, separate_taps, shows, tap
from playwright.sync_api import Locator, Page, expect

FOCUSED = "document.activeElement.getAttribute('aria-label') || document.activeElement.innerText"


def plies(page: Page) -> list[int]:
    """Totals of the live entries on this phone that say one, oldest first."""
    entries = [*stored(page, "don"), *stored(page, "ply")]
    return [e["body"]["total"] for e in sorted(entries, key=lambda e: str(e["at"])) if not e["erased"]]


def place(button: Locator) -> list[int]:
    """Where it is, to the pixel; once it stays where it is."""
    button.hover()
    box = button.bounding_box()
    assert box is not None
    return [round(box[side]) for side in ("x", "y", "width", "height")]


def last(page: Page) -> str:
    """What the row under the buttons says."""
    return page.locator(".undo .said").inner_text()


def test_taps_within_a_few_seconds_are_one_entry_and_later_ones_another(phone: Page) -> None:
    tap(phone, 3)
    shows(phone, 3)
    separate_taps(phone)
    tap(phone, 2)
    shows(phone, 5)
    tap(phone, 1, "1 ply off")
    shows(phone, 4)
    phone.wait_for_timeout(200)
    assert plies(phone) == [3, 4]
    assert last(phone).startswith("Last: 1 ply on")


def test_a_double_tap_is_one_entry(phone: Page) -> None:
    phone.get_by_role("button", name="1 ply on").dblclick()
    shows(phone, 2)
    phone.wait_for_timeout(200)
    assert plies(phone) == [2]


def test_a_tap_taken_back_by_the_other_button_leaves_no_entry(phone: Page) -> None:
    tap(phone, 4)
    separate_taps(phone)
    tap(phone, 1)
    tap(phone, 1, "1 ply off")
    shows(phone, 4)
    phone.wait_for_timeout(200)
    assert plies(phone) == [4]


def test_the_first_tap_says_that_the_leg_is_on(phone: Page) -> None:
    fresh(phone)
    tap(phone, 5)
    shows(phone, 5)
    expect(phone.get_by_text(re.compile(r"^on since"))).to_be_visible()
    assert [e["kind"] for kind in ("don", "ply") for e in stored(phone, kind)] == ["don"]


def test_there_is_no_ply_below_none(phone: Page) -> None:
    tap(phone, 1)
    tap(phone, 1, "1 ply off")
    shows(phone, 0)
    less = phone.get_by_role("button", name="1 ply off")
    expect(less).to_have_attribute("aria-disabled", "true")
    less.click(force=True)
    shows(phone, 0)


def test_undo_stands_where_the_tap_was_and_can_itself_be_undone(phone: Page) -> None:
    tap(phone, 6)
    separate_taps(phone)
    tap(phone, 1)
    shows(phone, 7)
    phone.get_by_role("button", name="Undo").click()
    shows(phone, 6)
    assert last(phone).startswith("Undone: 1 ply on")
    phone.get_by_role("button", name="Put back").click()
    shows(phone, 7)
    phone.reload()
    shows(phone, 7)
    expect(phone.get_by_role("button", name="Undo")).to_be_visible()


def test_what_was_undone_stays_in_the_days_log_and_can_be_put_back(phone: Page) -> None:
    tap(phone, 6)
    separate_taps(phone)
    tap(phone, 1)
    phone.get_by_role("button", name="Undo").click()
    screen(phone, "day", "Day’s log")
    gone = phone.get_by_role("listitem").filter(has_text="taken out")
    expect(gone).to_have_count(1)
    gone.get_by_role("link").click()
    phone.get_by_role("button", name="Put back into the log").click()
    expect(phone.get_by_role("heading", level=1, name="Day’s log")).to_be_visible()
    expect(phone.get_by_text("taken out")).to_have_count(0)
    screen(phone, "today", "")
    shows(phone, 7)


def test_a_reason_is_offered_after_a_change_and_nothing_moves_from_under_the_thumb(phone: Page) -> None:
    tap(phone, 6)
    separate_taps(phone)
    more = phone.get_by_role("button", name=re.compile("^1 ply on"))
    before = place(more)
    tap(phone, 1)
    loose = phone.get_by_role("button", name="Loose")
    expect(loose).to_be_visible()
    assert place(more) == before
    loose.click()
    expect(loose).to_have_attribute("aria-pressed", "true")
    expect(loose).to_be_hidden()  # it has been said; the row goes
    assert [e["body"]["why"] for e in stored(phone, "ply")] == ["loose"]


def test_the_reasons_for_less_are_others_than_for_more(phone: Page) -> None:
    tap(phone, 6)
    separate_taps(phone)
    tap(phone, 1, "1 ply off")
    expect(phone.get_by_role("group", name="Why?").get_by_role("button")).to_have_text(
        ["Tight", "Will not seat", "Hot", "Rest"]
    )


def test_a_wrong_time_and_total_are_put_right_and_the_old_version_is_kept(phone: Page) -> None:
    wearer = Wearer()
    wearer.worn(0, (8, 5), (10, 6), (12, 8), off=None)
    wearer.on_phone(phone)
    shows(phone, 8)
    phone.get_by_role("link", name=re.compile("Change this entry$")).click()
    when = phone.get_by_label("When")
    expect(when).to_have_value(f"{wearer.today}T12:00")
    when.fill(f"{wearer.today}T11:30")
    phone.get_by_role("button", name="1 ply off").click()
    phone.get_by_role("button", name="End pressure").click()
    phone.get_by_role("button", name="Save").click()
    shows(phone, 7)
    assert last(phone).startswith("Last: 1 ply on, 11:30")
    phone.get_by_role("link", name=re.compile("Change this entry$")).click()
    expect(phone.get_by_text("was: 8 ply")).to_be_visible()
    changed = [e for e in stored(phone, "ply") if e["body"]["total"] == 7]
    assert [e["body"]["why"] for e in changed] == ["end_pressure"]


def test_a_time_to_come_is_refused_in_words_and_nothing_is_changed(phone: Page) -> None:
    wearer = Wearer()
    wearer.worn(0, (8, 5), (12, 8), off=None)
    wearer.on_phone(phone)
    phone.get_by_role("link", name=re.compile("Change this entry$")).click()
    phone.get_by_label("When").fill(f"{wearer.today}T23:30")
    phone.get_by_role("button", name="Save").click()
    expect(phone.get_by_role("alert")).to_have_text("That time is still to come. Choose one that has passed.")
    screen(phone, "today", "")
    assert last(phone).startswith("Last: 3 ply on, 12:00")


def test_off_and_on_again_goes_on_with_what_was_on(new_phone: NewPhone) -> None:
    wearer = Wearer()
    wearer.worn(0, (8, 5), (12, 8), off=None)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.get_by_role("button", name="Take off").click()
    expect(phone.locator(".level .number")).to_have_text("off")
    expect(phone.get_by_text(re.compile("^off since"))).to_be_visible()
    expect(phone.get_by_text("8 ply before that.")).to_be_visible()
    phone.get_by_role("button", name="Put on, 8 ply").click()
    shows(phone, 8)
    assert [e["body"].get("total") for e in stored(phone, "don")] == [5, 8]
    phone.get_by_role("button", name="Undo").click()
    expect(phone.locator(".level .number")).to_have_text("off")


def test_a_second_tap_on_put_on_or_take_off_does_nothing_else(new_phone: NewPhone) -> None:
    wearer = Wearer()
    wearer.worn(0, (8, 5), (12, 8), off=12.5)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.get_by_role("button", name="Put on, 8 ply").dblclick()
    shows(phone, 8)
    phone.wait_for_timeout(600)
    phone.get_by_role("button", name="Take off").dblclick()
    expect(phone.locator(".level .number")).to_have_text("off")
    phone.wait_for_timeout(200)
    assert phone.url.endswith("/") or phone.url.endswith("#/today")
    assert [len(stored(phone, kind)) for kind in ("don", "ply", "doff")] == [2, 1, 2]


def test_the_buttons_stay_where_they_are_as_the_leg_goes_on_and_off(phone: Page) -> None:
    more = phone.get_by_role("button", name="1 ply on")
    first = place(more)
    tap(phone, 5)
    assert place(more) == first
    phone.wait_for_timeout(600)
    phone.get_by_role("button", name="Take off").click()
    on = place(phone.get_by_role("button", name="Put on, 5 ply"))
    assert [on[1], on[3]] == [first[1], first[3]]


def test_in_the_morning_the_last_start_is_offered_and_a_missing_take_off_is_named(new_phone: NewPhone) -> None:
    wearer = Wearer()
    wearer.worn(-2, (8, 4), (12, 8))
    wearer.worn(-1, (8, 5), (12, 9), off=None)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    expect(phone.get_by_text("no “take off” logged yesterday")).to_be_visible()
    expect(phone.get_by_role("button", name=re.compile("^Put on, 5 ply"))).to_contain_text("as at your last start")


def test_all_of_today_by_keyboard_alone(new_phone: NewPhone) -> None:
    phone = new_phone(viewport={"width": 390, "height": 844}, has_touch=False, is_mobile=False)
    expect(phone.get_by_role("button", name="1 ply on")).to_be_visible()

    def reach(name: str) -> None:
        for _ in range(40):
            phone.keyboard.press("Tab")
            focused = phone.evaluate(FOCUSED)
            if re.match(name, focused.replace("\n", " ")):
                return
        raise AssertionError(f"{name} is not reached by Tab")

    reach("1 ply on")
    phone.keyboard.press("Enter")
    phone.keyboard.press("Space")
    shows(phone, 2)
    reach("Undo")
    phone.keyboard.press("Enter")
    fresh(phone)
    reach("Put back")
    phone.keyboard.press("Enter")
    shows(phone, 2)
    reach("More")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", level=1, name="More")).to_be_focused()
