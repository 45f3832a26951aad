"""What a log holds after acts that come one by one: written a second time, in memory.

Nothing here asks the program. One task has at most one line that stands; doing beats
skipping; who does what is done is named beside who did it first; an undo takes one's
own name off another's line, or voids one's own with all that it closed; a feeding or a
picking that stands already is asked about.
"""

from dataclasses import dataclass, field

ALIKE = 0.10  # two weighings of one basket differ by this share at most


@dataclass
class Line:
    """One thing that happened, by whom; ``over`` is the skip it overruled."""

    what: str
    about: str  # a task, or a tree
    who: str
    amount: float | None = None
    also: set[str] = field(default_factory=set)
    is_void: bool = False
    over: "Line | None" = None

    def join(self, who: str) -> bool:
        is_new = who != self.who and who not in self.also
        if is_new:
            self.also.add(who)
        return is_new


@dataclass
class Came:
    """What came of an act: its state, and the line that stands for it."""

    state: str
    line: Line | None = None


Reply = tuple[str, list[Line]]  # "same" or "second", and what it was said of


class SerialLog:
    """Tasks with their states, and lines by the id that wrote them.

    ``fed`` names, for a feeding, the tree that is fed.
    """

    def __init__(self, tasks: dict[str, str | None]) -> None:
        self.fed = tasks
        self.status = dict.fromkeys(tasks, "open")
        self.lines: dict[str, Line] = {}  # in the order in which they were written
        self.sent: dict[str, Line | None] = {}

    def write(self, sent_id: str, line: Line) -> Line:
        self.lines[sent_id] = line
        return line

    def standing(self, task: str) -> Line:
        (line,) = [
            one for one in self.lines.values() if one.about == task and not one.is_void
        ]
        return line

    def asks(self, near: list[Line], reply: Reply | None) -> str:
        """Return "same", "second" or, where nobody said it of all of ``near``, "asks"."""
        if not near:
            return "second"
        if reply is None or any(one not in reply[1] for one in near):
            return "asks"
        return reply[0]

    def tick(
        self,
        sent_id: str,
        who: str,
        task: str,
        amount: float | None,
        reply: Reply | None,
    ) -> Came:
        if self.fed[task] and self.status[task] != "done":
            near = self.feedings(str(self.fed[task]))
            said = self.asks(near, reply)
            if said == "asks":
                return Came("asks")
            if said == "same":
                return Came("joined" if near[-1].join(who) else "kept", near[-1])
        was = self.status[task]
        if was == "done":
            line = self.standing(task)
            return Came("joined" if line.join(who) else "kept", line)
        line = Line("done", task, who, amount)
        if was == "skipped":
            line.over = self.standing(task)
            line.over.is_void = True
        self.write(sent_id, line)
        self.status[task] = "done"
        return Came("late" if was == "withdrawn" else "kept", line)

    def feedings(self, tree: str) -> list[Line]:
        return [
            one
            for one in self.lines.values()
            if one.what == "done" and self.fed.get(one.about) == tree
            if not one.is_void
        ]

    def skip(self, sent_id: str, who: str, task: str) -> Came:
        if self.status[task] == "withdrawn":
            return Came("late")
        if self.status[task] != "open":
            return Came("kept", self.standing(task))
        self.status[task] = "skipped"
        return Came("kept", self.write(sent_id, Line("skipped", task, who)))

    def undo(self, who: str, of: str) -> Came:
        line = self.sent.get(of)
        if line is None:
            return Came("gone")
        if who in line.also and not line.is_void:
            line.also.remove(who)
        elif not line.is_void:
            line.is_void = True
            if line.about in self.status:
                self.status[line.about] = "skipped" if line.over else "open"
            if line.over:
                line.over.is_void = False
        return Came("kept", line)

    def note(self, sent_id: str, who: str, tree: str) -> Came:
        return Came("kept", self.write(sent_id, Line("note", tree, who)))

    def pick(
        self, sent_id: str, who: str, tree: str, kg: float, reply: Reply | None
    ) -> Came:
        near = [
            one
            for one in self.lines.values()
            if (one.what, one.about, one.is_void) == ("harvested", tree, False)
            and (1 - ALIKE) * kg <= (one.amount or 0) <= kg / (1 - ALIKE)
        ]
        said = self.asks(near, reply)
        if said == "asks":
            return Came("asks")
        if said == "same":
            near[-1].join(who)
            return Came("joined", near[-1])
        return Came("kept", self.write(sent_id, Line("harvested", tree, who, kg)))

    def plan_moves(self, task: str) -> str:
        """Withdraw a task that is open, ask again for a withdrawn one; return its state."""
        turned = {"open": "withdrawn", "withdrawn": "open"}
        self.status[task] = turned.get(self.status[task], self.status[task])
        return self.status[task]
