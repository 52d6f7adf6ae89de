"""Today's reading: the usual and the likely peak as the server worked them out, the figure, the signs."""

from __future__ import annotations

import re

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.phone import all_sent, kept, pair, shows, tap
from browser.plytide_server import Server
from playwright.sync_api import Page, expect


def paired(new_phone: NewPhone, server: Server, logbook: str, wearer: Wearer, **options: object) -> Page:
    """A phone of that wearer's, in touch with the server and with its reading."""
    wearer.on_server(server, logbook)
    phone = new_phone(timezone_id=wearer.zone, **options)
    pair(phone, server.url, server.code(logbook))
    return phone


@pytest.fixture
def usual_day() -> Wearer:
    """A month of usual days, and today 2 above them: 9 since 12:00, where 7 is usual."""
    wearer = Wearer(ply_ceiling=12, clinic_phone="+351 21 000 0000", emergency_phone="112")
    five, three, one = wearer.drawer()
    wearer.month()
    wearer.add(0, 8, "don", total=5, socks=[five])
    wearer.add(0, 10, "ply", total=8, socks=[five, three])
    wearer.add(0, 12, "ply", total=9, socks=[five, three, one])
    return wearer


def test_the_number_opens_the_sentence_and_the_usual_stands_beside_it(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    phone = paired(new_phone, server, logbook, usual_day)
    shows(phone, 9)
    expect(phone.locator(".say")).to_contain_text(re.compile(r"ply on, 2 above your usual at \d+\sh\."), timeout=20_000)
    expect(phone.locator(".say")).to_contain_text(re.compile("Peak today most likely 9.*, .*day"))


def test_the_reading_follows_a_tap_at_once_and_offline(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    phone = paired(new_phone, server, logbook, usual_day)
    kept(phone)
    expect(phone.locator(".say")).to_contain_text("2 above", timeout=20_000)
    phone.context.set_offline(True)
    phone.reload()
    expect(phone.locator(".say")).to_contain_text("2 above")
    tap(phone, 1)
    expect(phone.locator(".say")).to_contain_text("3 above")
    tap(phone, 2)
    expect(phone.locator(".say")).to_contain_text("ply on, your ceiling.")
    expect(phone.get_by_role("button", name="1 ply on")).to_contain_text("past ceiling")
    tap(phone, 1)
    expect(phone.locator(".say")).to_contain_text("1 past your ceiling")


def test_what_is_on_is_shown_sock_by_sock(new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer) -> None:
    phone = paired(new_phone, server, logbook, usual_day)
    expect(phone.get_by_text("On, outer first: 1 ply, 3 ply, 5 ply.")).to_be_attached()
    labels = phone.locator(".day-figure text.key")
    expect(labels).to_contain_text(["now", "5 ply", "3 ply", "1 ply"])
    tap(phone, 1)  # a second 1 ply is in the drawer
    expect(phone.get_by_text("On, outer first: 1 ply, 1 ply, 3 ply, 5 ply.")).to_be_attached()
    tap(phone, 1)  # a third is not: which socks these are is not known, and not guessed
    expect(phone.get_by_text("Which socks they are is not said.")).to_be_visible()


def test_the_figure_says_in_words_what_it_draws(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    usual_day.add(0, 10.5, "doff")
    usual_day.add(0, 11, "don", total=8)
    phone = paired(new_phone, server, logbook, usual_day)
    figure = phone.get_by_role("img", name=re.compile("^Today since"))
    expect(figure).to_have_accessible_name(
        re.compile(
            r"^Today since 08:00: 5 from 08:00, 8 from 10:00, leg off 10:30 to 11:00, 8 from 11:00, 9 from 12:00\."
            r" Usual by now 7, most days \d to \d\. Ceiling 12\.$"
        ),
        timeout=20_000,
    )


def test_a_sign_stands_above_everything_with_why_and_a_call(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    finding = usual_day.add(0, 12.5, "skin", clear=False, findings=[{"what": "open", "height": 0.6, "angle": 0}])
    phone = paired(new_phone, server, logbook, usual_day)
    sign = phone.get_by_role("region", name=re.compile("^Same day"))
    expect(sign).to_be_visible(timeout=20_000)
    expect(sign).to_contain_text("Keep the leg off.")
    expect(sign.get_by_role("link", name="Call clinic")).to_have_attribute("href", "tel:+351210000000")
    sign.get_by_role("link", name=re.compile("^Why")).click()
    expect(phone.get_by_role("heading", level=1, name="Signs")).to_be_visible()
    expect(phone.get_by_text("Where the rule comes from")).to_be_visible()
    evidence = phone.get_by_role("list", name="The entries").get_by_role("link")
    expect(evidence).to_have_attribute("href", f"#/entry/{finding}")


def test_while_a_sign_says_keep_off_putting_on_is_not_the_main_button(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    usual_day.add(0, 12.5, "skin", clear=False, findings=[{"what": "open", "height": 0.6, "angle": 0}])
    usual_day.add(0, 12.6, "doff")
    phone = paired(new_phone, server, logbook, usual_day)
    put_on = phone.get_by_role("button", name=re.compile("^Put on, 9 ply"))
    expect(put_on).to_contain_text("a sign says: keep the leg off", timeout=20_000)
    expect(put_on).to_have_class(re.compile("out"))


def test_telling_the_clinic_is_kept_with_its_date(
    new_phone: NewPhone, server: Server, logbook: str, usual_day: Wearer
) -> None:
    usual_day.add(0, 12.5, "skin", clear=False, findings=[{"what": "open", "height": 0.6, "angle": 0}])
    phone = paired(new_phone, server, logbook, usual_day)
    all_sent(phone)
    expect(phone.get_by_role("region", name=re.compile("^Same day"))).to_be_visible(timeout=20_000)
    screen(phone, "signs", "Signs")
    same_day = phone.locator(".whole-sign").filter(has=phone.get_by_role("region", name=re.compile("^Same day")))
    same_day.get_by_role("button", name="I have told the clinic").click()
    expect(same_day.get_by_text(re.compile("^Told the clinic today"))).to_be_visible()


def test_an_old_reading_says_of_which_day_it_is(new_phone: NewPhone, server: Server, logbook: str) -> None:
    wearer = Wearer()
    wearer.month()
    phone = paired(new_phone, server, logbook, wearer)
    all_sent(phone)
    kept(phone)
    expect(phone.get_by_role("button", name=re.compile("^Put on, 5 ply"))).to_be_visible()
    phone.wait_for_timeout(2000)
    phone.context.set_offline(True)
    phone.clock.install()
    phone.clock.fast_forward(3 * 24 * 3600 * 1000)
    phone.reload()
    phone.get_by_role("button", name=re.compile("^Put on")).click()
    expect(phone.locator(".say")).to_contain_text(re.compile(r"Worked out on \w+day\."))


def test_what_one_entry_shows_stands_at_once_with_no_server_and_no_network(new_phone: NewPhone) -> None:
    wearer = Wearer(clinic_phone="+351 21 000 0000")
    wearer.worn(0, (8, 5), off=12)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    kept(phone)
    phone.context.set_offline(True)
    wearer.add(-1, 20, "skin", clear=False, findings=[{"what": "open", "height": 0.6, "angle": 0}])
    wearer.add(-1, 20.5, "skin", clear=True, findings=[])  # a second look on the same day ends nothing
    wearer.on_phone(phone)
    sign = phone.get_by_role("region", name=re.compile("^Same day.*Open skin"))
    expect(sign).to_contain_text("Keep the leg off.")
    expect(phone.get_by_role("button", name=re.compile("^Put on"))).to_contain_text("a sign says: keep the leg off")
    sign.get_by_role("link", name=re.compile("^Why")).click()
    expect(phone.get_by_text("You entered open skin.")).to_be_visible()
    wearer.add(0, 13, "skin", clear=True, findings=[])  # a clear look on a later day does
    wearer.on_phone(phone)
    screen(phone, "today", "")
    expect(phone.get_by_role("button", name=re.compile("^Put on, 5 ply"))).to_contain_text("as last on")
    expect(sign).to_have_count(0)
