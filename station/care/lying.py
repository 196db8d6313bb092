"""Where a container is recorded to lie, as people here say it."""

from station.care.floor import Floor
from station.care.state import Container


def lies_in(floor: Floor, container: Container) -> str:
    """The store and bin a container is recorded in, such as `Refrigerator, bin A3`; nothing where it is in none."""
    if container.store is None:
        return ""
    store = floor.plant.stores.get(container.store)
    bin_ = f", bin {container.bin}" if container.bin else ""
    return f"{store.title if store is not None else container.store}{bin_}"
