"""Which tables describe the house? Rooms, the areas of its envelope, the junctions between them."""

from airlab.words import Column, Table

__all__ = [
    "ENVELOPE",
    "ENVELOPE_KINDS",
    "JUNCTIONS",
    "LAYER_STATUSES",
    "PARTY_KINDS",
    "PAST_RESULTS",
    "ROOMS",
    "ROOM_SHAPES",
    "TABLES",
]

ENVELOPE_KINDS = ("wall", "roof", "ceiling", "floor", "party wall", "party floor", "window",
                  "door", "hatch", "floor edge", "other")  # fmt: skip
ROOM_SHAPES = ("box", "sloping ceiling", "bay", "dormer", "stair void", "floor void")
PARTY_KINDS = ("party wall", "party floor")
LAYER_STATUSES = ("not started", "open laps", "complete and visible", "covered")

_METRES = "Type metres: 2400 mm is 2.4, 240 cm is 2.4."
_SQUARE = "Type square metres: 15000 cm² is 1.5."

ROOMS = Table("rooms", "rooms of the house: what is inside the tested volume", (
    Column("room", "text", "name of the room, each used once", required=True),
    Column("storey", "text", "storey it stands on, such as ground or first", required=True,
           offers=("rooms.storey",)),
    Column("length_m", "number", "length, inside face to inside face", "m", low=0, high=200, slip=_METRES),
    Column("width_m", "number", "width, inside face to inside face", "m", low=0, high=200, slip=_METRES),
    Column("height_m", "number", "height, floor to ceiling: the mean in a box, the greatest under a slope", "m",
           low=0, high=20, slip=_METRES),
    Column("volume_m3", "number", "volume, where length × width × height does not give it", "m3",
           low=0, high=1e5),
    Column("floor_area_m2", "number", "floor area, where length × width does not give it", "m2",
           low=0, high=1e5, slip=_SQUARE),
    Column("included", "yes/no", "inside the tested volume", default=True),
    Column("why", "text", "why it is in or out"),
    Column("shape", "choice", "box: length × width × height. Sloping ceiling: the slope runs across the "
           "width. Bay: length is its back, width its depth. Dormer: height is that of its front, width "
           "how far it reaches back. Stair void, floor void: air without floor", choices=ROOM_SHAPES),
    Column("low_height_m", "number", "sloping ceiling: height where the slope meets the wall", "m",
           low=0, high=20, slip=_METRES),
    Column("flat_width_m", "number", "sloping ceiling: how much of the width has the full height; bay: "
           "length of its front", "m", low=0, high=200, slip=_METRES),
), key="room")  # fmt: skip

ENVELOPE = Table("envelope", "the envelope: one row is one area, an element as seen from one room", (
    Column("area", "text", "name of the area, each used once", required=True),
    Column("element", "text", "element it belongs to, such as north wall", required=True,
           offers=("envelope.element",)),
    Column("kind", "choice", "kind of element; floor is the lowest floor, floor edge the rim between "
           "storeys", required=True,
           choices=ENVELOPE_KINDS),
    Column("room", "text", "room it is seen from", required=True, offers=("rooms.room",)),
    Column("area_m2", "number", "size by inside dimensions; a wall without its windows and doors",
           "m2", required=True, low=0, high=1e5, slip=_SQUARE),
    Column("layer", "text", "material that is the airtight layer here"),
    Column("status", "choice", "state of the airtight layer", required=True, choices=LAYER_STATUSES),
    Column("later_layer", "yes/no", "a later layer such as plaster will add tightness", default=False),
    Column("supported", "yes/no", "film is battened or boarded", default=False),
    Column("note", "text", "anything else"),
), key="area")  # fmt: skip

JUNCTIONS = Table("junctions", "the joints where one element meets another", (
    Column("junction", "text", "name of the junction, each used once", required=True),
    Column("element_a", "text", "first element", required=True, offers=("envelope.element",)),
    Column("element_b", "text", "second element", required=True, offers=("envelope.element",)),
    Column("layer_a", "text", "airtight layer on the first side"),
    Column("layer_b", "text", "airtight layer on the second side"),
    Column("joined", "text", "how the two layers are joined"),
    Column("length_m", "number", "length of the joint", "m", low=0, high=5000, slip=_METRES),
    Column("count", "number", "how many, where it is counted and not measured", low=0, high=10000),
    Column("owner", "text", "who makes it and answers for it"),
    Column("inspection", "text", "when and by whom it is looked at"),
    Column("hidden_on", "date", "date it will be hidden"),
    Column("closed", "yes/no", "the line is unbroken here", default=False),
), key="junction")  # fmt: skip

PAST_RESULTS = Table("past_results", "your own earlier houses: what was aimed for, what came out", (
    Column("house", "text", "name of the house", required=True),
    Column("aimed_for", "number", "value aimed for, in the unit of the result", required=True, low=0),
    Column("result", "number", "value measured at the end, in the same unit", required=True, low=0),
), key="house")  # fmt: skip

TABLES = (ROOMS, ENVELOPE, JUNCTIONS, PAST_RESULTS)
