"""All of the round was done, on one day, and nobody ticked: said in two taps."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_POST

from care.actions.tasks import complete_tasks
from care.forms.all_done import AllDoneForm
from care.models import Task
from care.views.days import full_day
from care.views.many_ticks import to_round, was_done
from care.views.round import show_round, shown_tasks
from care.views.same_job import left_words
from orchard.access import May
from orchard.views.site_page import SitePage, let_in


def tasks_of(request: HttpRequest, page: SitePage, form: AllDoneForm) -> list[Task]:
    """Return the open tasks that a valid form means."""
    on = form.cleaned_data["on"]
    return [
        task
        for task in shown_tasks(request, page)[0]
        if was_done(task, on, page.today) and form.has_seen(task)
    ]


@require_POST
@login_required
def all_done(request: HttpRequest, site: str) -> HttpResponse:
    """Tick what the round shows and could be done on a day, as done that day."""
    page = let_in(request, site, May.TICK)
    form = AllDoneForm(request.POST, today=page.today)
    if not form.is_valid():
        return show_round(request, page, all_done=form)
    on = form.cleaned_data["on"]
    due = tasks_of(request, page, form)
    entries = complete_tasks(tasks=due, person=page.person, on=on, now=page.now)
    if not entries:
        messages.info(request, gettext("Nothing was to tick on that day."))
    else:
        words = ngettext(
            "{number} task is ticked as done on {day}.",
            "{number} tasks are ticked as done on {day}.",
            len(entries),
        )
        said = words.format(number=len(entries), day=full_day(on))
        messages.success(request, said + left_words(due))
    return to_round(page, entries)
