"""Sites, blocks and local rules."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from django.db import transaction
from django.db.models import F, Max
from django.utils.text import slugify

from orchard.actions.audit import changed, note
from orchard.actions.people import found_orchard
from orchard.actions.watering_rules import (
    RuleValues,
    rule_words,
    write_watering_rules,
)
from orchard.models import (
    Block,
    FeedingBlackout,
    Orchard,
    Person,
    Site,
    WeatherDay,
)

SiteValues = Mapping[str, object]


def raise_revision(site: Site) -> None:
    """Say that something changed that the plan may depend on."""
    Site.objects.filter(pk=site.pk).update(revision=F("revision") + 1)


def lock_site(site_id: int) -> None:
    """Let nobody plan a site until this transaction ends; before any task is locked.

    A plan locks its site and then writes tasks. Whoever locked a task first would wait
    for the plan, and the plan for them.
    """
    locked = Site.objects.select_for_update(no_key=True).filter(pk=site_id)
    list(locked.values_list("pk"))


def free_slug(name: str) -> str:
    """Return an address word for ``name`` that no site uses yet."""
    stem = slugify(name)[:50] or "site"
    slug, number = stem, 2
    while Site.objects.filter(slug=slug).exists():
        slug, number = f"{stem}-{number}", number + 1
    return slug


@transaction.atomic
def add_site(
    *,
    orchard: Orchard,
    values: SiteValues,
    slug: str = "",
    person: Person | None = None,
) -> Site:
    """Create a site; ``values`` are model fields that a form has checked.

    ``person`` is who does it, for the trail, here and below; ``None`` is the server.
    """
    name = str(values["name"])
    site = Site(orchard=orchard, slug=slug or free_slug(name), **values)
    site.save()
    note(orchard=orchard, person=person, what="site_added", subject=name)
    return site


@transaction.atomic
def begin_orchard(
    *, person: Person, orchard_name: str, site_values: SiteValues
) -> Site:
    """Create an orchard that ``person`` owns together with its first site."""
    orchard = found_orchard(person=person, name=orchard_name)
    return add_site(orchard=orchard, values=site_values, person=person)


Span = tuple[int, int, int, int]  # start month, day, end month, day


@transaction.atomic
def change_site(
    *,
    site: Site,
    values: SiteValues,
    spans: Sequence[Span] | None = None,
    watering_rules: Sequence[RuleValues] | None = None,
    person: Person | None = None,
) -> None:
    """Change a site's facts, and its local rules unless they are None.

    ``spans`` are those in which nobody feeds. ``person`` is remembered with the rules
    that are new.
    """
    before: dict[str, object] = {field: getattr(site, field) for field in values}
    after = dict(values)
    subject = site.name
    for field, value in values.items():
        setattr(site, field, value)
    site.save(update_fields=list(values))
    if spans is not None:
        before["feeding_blackouts"] = _blackout_words(_blackouts(site))
        _write_blackouts(site, spans, person)
        after["feeding_blackouts"] = _blackout_words(spans)
    if watering_rules is not None:
        before["watering_rules"] = write_watering_rules(site, watering_rules, person)
        after["watering_rules"] = rule_words(watering_rules)
    raise_revision(site)
    was, became = changed(before, after)
    if became:
        note(
            orchard=site.orchard,
            person=person,
            what="site_changed",
            subject=subject,
            before=was,
            after=became,
        )


def _blackouts(site: Site) -> dict[Span, FeedingBlackout]:
    return {
        (span.start_month, span.start_day, span.end_month, span.end_day): span
        for span in site.feeding_blackouts.all()
    }


def _blackout_words(spans: Iterable[Span]) -> list[str]:
    return sorted(
        f"{start_day}/{start_month} to {end_day}/{end_month}"
        for start_month, start_day, end_month, end_day in set(spans)
    )


def _write_blackouts(site: Site, spans: Sequence[Span], person: Person | None) -> None:
    before = _blackouts(site)
    for key, span in before.items():
        if key not in spans:
            span.delete()
    FeedingBlackout.objects.bulk_create(
        FeedingBlackout(
            site=site,
            start_month=start_month,
            start_day=start_day,
            end_month=end_month,
            end_day=end_day,
            entered_by=person,
        )
        for start_month, start_day, end_month, end_day in dict.fromkeys(spans)
        if (start_month, start_day, end_month, end_day) not in before
    )


def find_or_make_block(site: Site, name: str) -> tuple[Block, bool]:
    """Return the site's block of that name and whether it is new; a part of actions."""
    return Block.objects.get_or_create(
        site=site, name=name, defaults={"position": site.blocks.count()}
    )


@transaction.atomic
def block_named(*, site: Site, name: str, person: Person | None = None) -> Block:
    """Return the site's block of that name, made at the end of the walk if new."""
    block, is_new = find_or_make_block(site, name)
    if is_new:
        raise_revision(site)
        note(orchard=site.orchard, person=person, what="block_added", subject=name)
    return block


@transaction.atomic
def live_on(*, site: Site, days: int, person: Person | None = None) -> date:
    """Let a demonstration site live ``days`` further; return its new day.

    It stops at the last day of its record, beyond which nothing would be real.

    Raises
    ------
    ValueError
        The site lives by the clock.
    """
    locked = Site.objects.select_for_update().get(pk=site.pk)
    if locked.own_today is None:
        message = "Only a demonstration site has a day of its own."
        raise ValueError(message)
    end = _last_observed_day(site) or date.max
    before = locked.own_today
    wanted = before + timedelta(days=days)
    locked.own_today = max(before, min(wanted, end))
    locked.save(update_fields=["own_today"])
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="day_moved_on",
        subject=site.name,
        before={"day": before},
        after={"day": locked.own_today},
    )
    site.own_today = locked.own_today
    return locked.own_today


def _last_observed_day(site: Site) -> date | None:
    # A station sends by the clock, whatever day a demonstration has.
    own_days = WeatherDay.objects.filter(
        batch__series__owner=site, issued_on=None
    ).exclude(batch__series__kind="sent")
    last: date | None = own_days.aggregate(last=Max("day"))["last"]
    return last
