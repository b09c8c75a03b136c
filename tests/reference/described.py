"""What checks share that read a JSON output: its schema with every object closed, and its quantities.

A schema that users get is open, since members may be added. Closed, it refuses a member that it does not name; and
every member that it names is described there."""
import copy


def closed(schema):
    """A copy in which an object may have no member but those that the schema names."""
    schema, bare = copy.deepcopy(schema), []

    def close(part, where):
        if isinstance(part, dict):
            if isinstance(part.get("properties"), dict):
                part.setdefault("additionalProperties", False)
                bare.extend(f"{where}/{name}" for name, member in part["properties"].items() if not member.get("description"))
            for name, value in part.items():
                close(value, f"{where}/{name}")
        elif isinstance(part, list):
            for value in part:
                close(value, where)

    close(schema, schema["title"])
    if bare:
        raise SystemExit("not described: " + ", ".join(bare))
    return schema


def of_element(found, key):
    """kg of the element per m2, of a quantity in the form of the trade; None where it is not known."""
    return None if found[key] is None else found[key]["si"] * found.get("element_share", 1)
