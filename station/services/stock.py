"""What a shift lead says of a whole store; badge and PIN prove it, and all of it is written in one piece or nothing is.

Both raise `Refusal` for the proof and `care.stores.StoreRefused` for what can't be recorded as told.
"""

from station.care import stores
from station.care.words import Role
from station.services.outcome import Outcome
from station.services.station import Proof, Station


def move_store(station: Station, told: stores.WholeStore, proof: Proof) -> Outcome:
    """Everything in one store went to another one."""
    return station.decided(proof, Role.LEAD, lambda floor, person: stores.move_all(floor, told, person))


def store_out_since(station: Station, told: stores.WholeStore, proof: Proof) -> Outcome:
    """Everything in a store counts as taken out since an instant; a label prints for each."""
    return station.decided(proof, Role.LEAD, lambda floor, person: stores.out_since(floor, told, person))
