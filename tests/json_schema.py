"""Just as much of JSON Schema as the schemas in this repository use, to hold files against them."""

import re

TYPES = {"object": dict, "array": list, "string": str, "integer": int, "number": (int, float), "boolean": bool, "null": type(None)}
WORDS = {"$schema", "$defs", "$ref", "title", "description", "type", "required", "properties", "patternProperties", "additionalProperties",
         "minProperties", "maxProperties", "items", "prefixItems", "enum", "const", "oneOf"}


def faults(schema, value, where="it", root=None):
    """Yields what does not fit the schema; a word that it does not know is refused, not passed over."""
    root = root or schema
    assert schema.keys() <= WORDS, schema.keys() - WORDS
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].removeprefix("#/$defs/")]
    if "oneOf" in schema:
        fitting = sum(not any(faults(one, value, where, root)) for one in schema["oneOf"])
        if fitting != 1:
            yield f"{where} fits {fitting} of the forms it may have"
    if "type" in schema:
        types = [schema["type"]] if isinstance(schema["type"], str) else schema["type"]
        if (isinstance(value, bool) and "boolean" not in types) or not any(isinstance(value, TYPES[t]) for t in types):
            yield f"{where} is no {' or '.join(types)}"
            return
    if value not in schema.get("enum", [value]) or value != schema.get("const", value):
        yield f"{where} is {value}"
    if isinstance(value, dict):
        yield from (f"{where} lacks {key}" for key in schema.get("required", []) if key not in value)
        if not schema.get("minProperties", 0) <= len(value) <= schema.get("maxProperties", len(value)):
            yield f"{where} has {len(value)} keys"
        if not schema.keys() & {"properties", "patternProperties", "additionalProperties"}:
            return
        for key, item in value.items():
            found = [schema["properties"][key]] if key in schema.get("properties", {}) else []
            found += [more for pattern, more in schema.get("patternProperties", {}).items() if re.search(pattern, key)]
            more = found or [schema.get("additionalProperties", {})]
            for one in more:
                yield from [f"{where} has {key}"] if one is False else faults(one, item, f"{where}.{key}", root)
    elif isinstance(value, list):
        first, rest = schema.get("prefixItems", []), schema.get("items", {})
        for k, item in enumerate(value):
            yield from faults(first[k] if k < len(first) else rest, item, f"{where}[{k}]", root)
