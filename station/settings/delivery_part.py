"""The table [delivery] of site.toml, which may be left out: what the look of a delivery comes to at this site."""

from station.care.delivery_rules import Consequence, DeliveryRules
from station.settings import fields
from station.settings.table import Table

USUAL = DeliveryRules()


def read_delivery(root: Table) -> DeliveryRules:
    """The site's choices; what it does not say is as in `USUAL`. A tripped indicator always holds."""
    if "delivery" not in root:
        root.read_optional("delivery", fields.flag())
        return USUAL
    table = root.table("delivery")

    def told(key: str, usual: Consequence) -> Consequence:
        return table.read_optional(key, fields.choice(Consequence)) or usual

    found = DeliveryRules(
        box_damaged=told("box_damaged", USUAL.box_damaged),
        box_wet=told("box_wet", USUAL.box_wet),
        packs_melted=told("packs_melted", USUAL.packs_melted),
        packs_missing=told("packs_missing", USUAL.packs_missing),
    )
    table.refuse("indicator", "a tripped temperature indicator always puts on hold")
    table.close()
    return found
