"""One mail as the journal has it: how it stands with each address, and so as a whole."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from reportgen.records.as_mailed import AsMailed

State = Literal["queued", "sending", "sent", "failed", "unknown", "damaged"]
"""How a mail stands; `damaged` where the journal's row about it is."""
Reached = Literal["queued", "sending", "sent", "failed", "unknown", "bounced"]
Via = Literal["smtp", "outbox"]


@dataclass(frozen=True)
class Reach:
    """How a mail stands with one address, and what a server said of it."""

    state: Reached
    says: str = ""


@dataclass(frozen=True)
class Entry:
    """One mail. `addresses` says how it stands with each, `state` how as a whole since `at` (UTC), `says` what a person
    said or into which file it was written; `facts` are what is kept of the report that it told,
    `corrects` is the mail that it takes the place of.

    Of a mail that is long past there are no addresses and no facts any more. One whose student was forgotten has
    neither student nor revision.
    """

    id: int
    student: str
    lesson: str
    revision: str
    message_id: str
    addresses: Mapping[str, Reach]
    facts: AsMailed | None
    corrects: int | None
    state: State
    via: Via | None
    at: datetime
    says: str = ""

    @property
    def reached(self) -> bool:
        """Somebody has it, or may have it."""
        if not self.addresses:
            return self.state in ("sent", "unknown", "sending")
        return any(reach.state in ("sent", "unknown", "sending") for reach in self.addresses.values())

    @property
    def missed(self) -> dict[str, str]:
        """The addresses that it did not reach and will not reach by itself, and why."""
        return {a: reach.says for a, reach in self.addresses.items() if reach.state in ("failed", "bounced")}

    @property
    def bounced(self) -> bool:
        """It came back from an address."""
        return any(reach.state == "bounced" for reach in self.addresses.values())

    @property
    def why(self) -> str:
        """What is known of it besides its state, in one line: first whom it did not reach."""
        missed = self.missed
        told = [f"{address}: {says}" if says else address for address, says in missed.items()]
        told += dict.fromkeys(reach.says for a, reach in self.addresses.items() if reach.says and a not in missed)
        return "; ".join(told) or self.says

    def with_each(self, state: Reached) -> list[str]:
        """The addresses with which it stands so."""
        return [address for address, reach in self.addresses.items() if reach.state == state]

    def after(self, happened: Mapping[str, Reach], at: datetime) -> "Entry":
        """The mail as it stands after what happened with some of its addresses."""
        addresses = {**self.addresses, **happened}
        return replace(self, addresses=addresses, state=as_a_whole(addresses) or self.state, at=at)

    def again(self, at: datetime) -> "Entry":
        """The mail, to be sent to those whom it did not reach; where it reached all, to all."""
        left = [address for address, reach in self.addresses.items() if reach.state != "sent"]
        waiting = self.after(all_of(left or self.addresses, "queued"), at)
        return replace(waiting, state="queued", says="")

    def arrived(self, at: datetime) -> "Entry":
        """The mail, after a person said that it arrived where that was in doubt."""
        told = all_of([*self.with_each("unknown"), *self.with_each("sending")], "sent")
        state: State = "sent" if not self.addresses else self.state
        return replace(replace(self, state=state).after(told, at), says="said to have arrived")


def as_a_whole(addresses: Mapping[str, Reach]) -> State | None:
    """How a mail stands, from how it stands with each address: what is open counts before what is done. None where no
    address is known."""
    states = {reach.state for reach in addresses.values()}
    open_ones: tuple[State, ...] = ("sending", "unknown", "queued")
    done: State = "sent" if states & {"sent", "bounced"} else "failed"
    return next((state for state in open_ones if state in states), done) if states else None


def all_of(addresses: Iterable[str], state: Reached, says: str = "") -> dict[str, Reach]:
    """The same for each of some addresses."""
    return dict.fromkeys(addresses, Reach(state, says))
