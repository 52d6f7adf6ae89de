"""Marks on the skin and the time they take to fade: asked on the skin check and on Today, judged by the limit."""

from __future__ import annotations

import re

import pytest
from browser.limb_steps import axe_finds, entry, profile, put, show
from browser.phone import kept
from browser.skin_steps import PHONES, acting, check, settled, tick
from playwright.sync_api import Page, expect

MARK = {"what": "redness", "height": 0.6, "angle": 10.0, "fade_min": None, "still_red": False, "blanches": True}


@pytest.mark.parametrize(
    ("minutes", "limit", "risks", "over"),
    [(19, 20, [], False), (21, 20, [], True), (14, 15, ["diabetes"], False), (16, 15, ["circulation"], True)],
)
def test_a_mark_still_there_is_over_only_after_the_limit(
    phone: Page, minutes: int, limit: int, risks: list[str], over: bool
) -> None:
    """20 minutes by default, 15 with diabetes, poor circulation or feeling: five published clinic handouts give a few
    minutes, 15 to 20, 20, 20 to 30, and 30; the clinic's own number wins."""
    put(phone, [profile(higher_risk=risks), entry("doff", "left", {}, minutes + 0.2)])
    show(phone, "skin/left")
    tick(phone, "A mark that stays")
    phone.get_by_role("radio", name="Still there").check(force=True)
    settled(phone)
    if over:
        expect(acting(phone)).to_contain_text(f"Your limit for a mark to fade is {limit} minutes.")
    else:
        expect(phone.get_by_text(f"Marks may take up to {limit} min. Look again at")).to_be_visible()
        expect(acting(phone)).to_have_count(0)
    assert check(phone)["findings"][0]["still_red"] is over  # type: ignore[index]


@pytest.mark.parametrize(
    ("minutes", "said", "fade", "over"),
    [
        (19, "Gone", 19, False),
        (20, "Gone in time", 20, False),
        (20, "Gone later", 21, True),
        (21, "Gone later", 21, True),
    ],
)
def test_a_mark_gone_is_entered_with_its_minutes(phone: Page, minutes: int, said: str, fade: int, over: bool) -> None:
    """20 minutes are within a limit of 20, 21 are not (same handouts)."""
    put(phone, [profile(), entry("doff", "left", {}, minutes + 0.2)])
    show(phone, "skin/left")
    tick(phone, "A mark that stays")
    settled(phone)  # what it says to do has pushed the answers down
    # Once the limit is up, the clock alone cannot tell whether the mark went in time.
    phone.get_by_role("radio", name=said, exact=True).check(force=True)
    settled(phone)
    assert check(phone)["findings"][0]["fade_min"] == fade  # type: ignore[index]
    expect(acting(phone)).to_have_count(int(over))
    phone.get_by_role("button", name="One minute less").click()
    phone.wait_for_timeout(200)
    assert check(phone)["findings"][0]["fade_min"] == fade - 1  # type: ignore[index]
    expect(acting(phone)).to_have_count(0)


def test_a_mark_that_went_in_time_is_within_the_limit_however_late_one_says_so(phone: Page) -> None:
    put(phone, [profile(), entry("doff", "left", {}, 45)])
    show(phone, "skin/left")
    tick(phone, "A mark that stays")
    phone.get_by_role("radio", name="Gone in time").check(force=True)
    settled(phone)
    assert check(phone)["findings"][0]["fade_min"] == 20  # type: ignore[index]
    expect(acting(phone)).to_have_count(0)


def test_the_clinics_own_limit_wins_over_the_default(phone: Page) -> None:
    put(phone, [profile(fade_limit_min=10, higher_risk=["diabetes"]), entry("doff", "left", {}, 10.5)])
    show(phone, "skin/left")
    expect(phone.get_by_role("timer")).to_contain_text("10 min")
    expect(phone.get_by_role("timer")).to_contain_text("minutes since the leg came off")


def test_the_timer_runs_from_doffing_and_then_asks(phone: Page) -> None:
    put(phone, [profile(), entry("don", "left", {"total": 5}, 300)])
    show(phone, "skin/left")
    expect(phone.get_by_text("Your log has the leg on.")).to_be_visible()
    phone.clock.install()
    phone.get_by_role("button", name="Took it off now").click()
    expect(phone.get_by_role("timer")).to_contain_text(re.compile("(20:00|19:5)"))
    phone.clock.run_for(8 * 60_000)
    expect(phone.get_by_role("timer")).to_contain_text(re.compile("(12:0|11:5)"))
    expect(phone.get_by_role("timer")).to_have_attribute("aria-label", re.compile("^12 minutes of 20 left"))
    tick(phone, "A mark that stays")
    expect(phone.get_by_text("Is it gone?", exact=True)).to_be_visible()
    phone.clock.run_for(13 * 60_000)
    expect(phone.get_by_role("timer")).to_contain_text("minutes since the leg came off")
    expect(phone.get_by_text("The time is up. Is it gone?")).to_be_visible()


def test_a_mark_that_does_not_pale_is_for_the_same_day_whatever_the_clock_says(phone: Page) -> None:
    put(phone, [profile(**PHONES), entry("doff", "left", {}, 3)])
    show(phone, "skin/left")
    tick(phone, "A mark that stays")
    phone.get_by_role("radio", name="Does not").check(force=True)
    expect(acting(phone)).to_contain_text("Same day: A mark that does not pale, or is purple")


def test_today_asks_whether_the_mark_is_gone_after_a_reload_and_offline_too(phone: Page) -> None:
    """20 minutes by default (the handouts above)."""
    found = {"clear": False, "findings": [MARK], "fever_c": None, "unwell": []}
    put(phone, [profile(**PHONES), entry("doff", "left", {}, 21.2), entry("skin", "left", found, 18)])
    kept(phone)
    phone.context.set_offline(True)
    phone.reload()
    ask = phone.get_by_role("status", name="Skin check")
    expect(ask).to_contain_text(re.compile(r"Leg off for 21\smin. Is the mark gone\?"))
    assert axe_finds(phone) == []
    ask.get_by_role("button", name="Still there").click()
    expect(acting(phone)).to_contain_text("Your limit for a mark to fade is 20 minutes.")
    settled(phone)
    assert check(phone)["findings"][0]["still_red"] is True  # type: ignore[index]
    phone.get_by_role("link", name="Back to Today").click()
    expect(phone.get_by_role("region", name=re.compile("^Review"))).to_be_visible()
    expect(ask).to_have_count(0)


def test_today_asks_for_one_look_a_day_and_takes_not_now_for_an_answer(phone: Page) -> None:
    ask = phone.get_by_role("status", name="Skin check")
    put(phone, [profile(), entry("doff", "left", {}, 40)])
    phone.reload()
    expect(ask).to_contain_text("Any mark left on the skin?")
    ask.get_by_role("button", name="Not now").click()
    expect(ask).to_have_count(0)
    phone.reload()
    expect(phone.get_by_role("button", name="Put on")).to_be_visible()
    expect(ask).to_have_count(0)
    put(phone, [entry("don", "left", {}, 39), entry("doff", "left", {}, 25)])
    phone.reload()
    expect(ask).to_contain_text("Any mark left on the skin?")  # after another doffing it is another question
    put(phone, [entry("skin", "left", {"clear": True, "findings": []}, 1)])
    phone.reload()
    expect(phone.get_by_role("button", name="Put on")).to_be_visible()
    expect(ask).to_have_count(0)
