"""Steps, skills and minutes as the people of a workshop say them, for the sentences in a plan."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from planner.parts import Step

SKILLS = {
    "wood": "saw, glue and plane",
    "router": "run the router",
    "sanding": "sand",
    "detail": "mask, seal, paint or peel",
    "laser": "run the laser",
    "finish": "oil and wipe",
    "packing": "pack",
}
HOUR = 60


def can_do(skill: str) -> str:
    """What somebody with a skill can do: `oil and wipe`; a skill of somebody else's own making is just named."""
    return SKILLS.get(skill, f"do {skill}")


def named(step: Step) -> str:
    """A step as its people call it, or its id where nobody said what it is."""
    what = step.about.get("what")
    return f"“{what}”" if what else step.id


def one_line(text: str) -> str:
    """A text from anywhere as one line of a screen: what cannot be seen is written as its escape."""
    return "".join(each if each.isprintable() else each.encode("unicode_escape").decode() for each in text)


def lasting(minutes: int) -> str:
    """`45 minutes`, `1 hour`, `6 hours 43 minutes`."""
    hours, rest = divmod(minutes, HOUR)
    said = [
        f"{count} {unit}{'' if count == 1 else 's'}" for count, unit in ((hours, "hour"), (rest, "minute")) if count
    ]
    return " ".join(said) or "0 minutes"


def at(origin: datetime, minute: int) -> str:
    """A minute as the shop's clock shows it: `Mon 2 Mar 08:30`; where no calendar reaches, the bare minute."""
    instant = _instant(origin, minute)
    return f"{instant:%a} {instant.day} {instant:%b} {instant:%H:%M}" if instant else f"minute {minute:,}"


def between(origin: datetime, opens: int, closes: int) -> str:
    """Some minutes by the shop's clock: `Mon 2 Mar 08:30 to 09:30`."""
    until = _instant(origin, closes)
    return f"{at(origin, opens)} to {f'{until:%H:%M}' if until else at(origin, closes)}"


def _instant(origin: datetime, minute: int) -> datetime | None:
    try:
        return (origin.astimezone(UTC) + timedelta(minutes=minute)).astimezone(origin.tzinfo)
    except OverflowError:
        return None
