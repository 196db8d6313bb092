"""Why a queue does not print, one clear sentence each, which ends in how to mend it.

The printer-state-reasons are those of RFC 8011, section 5.4.12, and PWG 5100.9; a suffix tells how grave they are.
"""

from station.labels.faults import LabelFault

_LABELS = "has no labels. Load labels"
_SILENT = "does not answer. Look at its power switch and its cable"
OF_REASON = {
    "media-empty": _LABELS,
    "media-needed": _LABELS,
    "media-jam": "has a jam. Open it and take the jammed label out",
    "cover-open": "is open. Close its cover",
    "door-open": "is open. Close its cover",
    "interlock-open": "is open. Close its cover",
    "marker-supply-empty": "has no ribbon. Put a new ribbon in",
    "toner-empty": "has no toner. Put toner in",
    "offline": _SILENT,
    "shutdown": _SILENT,
    "timed-out": _SILENT,
}
HARMLESS = frozenset({"media-empty-report", "media-needed-report", "marker-supply-empty-report", "toner-empty-report"})
SUFFIXES = ("-error", "-warning", "-report")
STATE_STOPPED = "5"


def queue_fault(queue: str, attributes: dict[str, str]) -> LabelFault | None:
    """What the state of a queue says against printing on it; the reason that is known best comes first."""
    reasons = [reason for reason in attributes.get("printer-state-reasons", "").split(",") if reason != "none"]
    for reason in reasons:
        if (told := OF_REASON.get(_bare(reason))) is not None and reason not in HARMLESS:
            return LabelFault(_bare(reason), f"The printer of queue {queue} {told}.")
    if attributes.get("printer-state") == STATE_STOPPED:
        return LabelFault("stopped", f"Printer queue {queue} is stopped. Start it again with: cupsenable {queue}.")
    if attributes.get("printer-is-accepting-jobs") == "false":
        return LabelFault("rejecting", f"Printer queue {queue} takes no labels. Open it with: cupsaccept {queue}.")
    grave = next((reason for reason in reasons if reason.endswith("-error")), None)
    if grave is not None:
        return LabelFault("printer", f"The printer of queue {queue} reports {_bare(grave)}. Look at its display.")
    return None


def _bare(reason: str) -> str:
    return next((reason.removesuffix(ending) for ending in SUFFIXES if reason.endswith(ending)), reason)


def no_queue(queue: str) -> LabelFault:
    """There is no queue of this name."""
    told = f"This PC has no printer queue {queue}. Set queue in site.toml, [label], to one that lpstat -e lists."
    return LabelFault("no-queue", told)


def dead() -> LabelFault:
    """The print service is not there."""
    return LabelFault("service-dead", "The print service of this PC does not run. Start it with: systemctl start cups.")


def hung(within_s: float) -> LabelFault:
    """The print service is there and does not answer."""
    told = f"The print service did not answer within {within_s:g} s. Start it anew with: systemctl restart cups."
    return LabelFault("service-hung", told)


def not_installed(program: str) -> LabelFault:
    """The programs that speak to the print service are missing."""
    return LabelFault("no-service", f"This PC has no program {program}. Install the package cups-client.")
