"""The parts of a mouth seen from the side, cut through the middle, the face to the left.

Here stands what does not move; `posture` adds what does. About 2 units are 1 mm of an adult. Our
own drawing, made from the terms of the field alone.
"""

from __future__ import annotations

from builder.make.mouth.curves import Part, Point

# Upper teeth: front, edge, back. The roof of the mouth begins where their back ends.
TEETH_FRONT: Part = ((55, 110), (56, 121), (60, 132))
TEETH_EDGE: Part = ((60, 132), (64, 132))
TEETH_BACK: Part = ((64, 132), (68.5, 122), (74, 113))
RIDGE: Part = ((74, 113), (80, 110), (87, 104), (95, 95.5))
PALATE: Part = ((95, 95.5), (107, 88), (122, 84), (138, 85.5), (152, 91))
VELUM: dict[str, Part] = {  # from the palate to the end of the uvula
    "raised": ((152, 91), (165, 95), (175, 102), (181, 112), (183, 125)),
    "lowered": ((152, 91), (162, 98), (170, 109), (174, 122), (175, 136)),
}
NOSE_SIDE: dict[str, Part] = {  # from there along the floor of the nose to the upper lip
    "raised": (
        *((183, 125), (188, 122), (191, 112), (197, 100), (195, 90), (184, 81), (168, 78)),
        *((150, 78), (122, 73), (92, 76), (66, 87), (46, 92)),
    ),
    "lowered": (
        *((175, 136), (180.5, 135), (182.5, 121), (179, 105), (169, 88), (152, 79)),
        *((122, 73), (92, 76), (66, 87), (46, 92)),
    ),
}
PROFILE: Part = ((61, 10), (48, 36), (31, 60), (19, 76), (21, 86), (33, 87))
NOSE_ROOF: Part = ((33, 87), (43, 81), (56, 64), (80, 50), (120, 43), (160, 47), (184, 61))
WALL: Part = ((195, 82), (198.5, 110), (199, 145), (198, 180), (198, 215), (201, 250), (202, 286))

# Tongue: where it is fixed, and the edge of its flesh above chin and throat.
FRENULUM: Point = (96, 171)
ROOT_END: Point = (171, 207)
TONGUE_BED: Part = ((171, 207), (164, 219), (148, 223), (118, 214), (96, 200), (88, 186), (89, 175))
EPIGLOTTIS: Part = (
    *((171, 207), (174, 203), (180, 191), (185, 184), (188.5, 184), (188, 191)),
    *((182, 205), (177, 218), (171, 230)),
)
LARYNX_FRONT: Part = ((171, 230), (169, 236), (175, 242), (169, 248), (168, 262), (168, 286))
LARYNX_BACK: Part = (
    (198, 216),
    (193, 219),
    (189.5, 227),
    (188, 236),
    (183, 242),
    (188, 248),
    (189, 286),
)
GLOTTIS: tuple[Point, Point] = ((175, 242), (183, 242))
THROAT: Part = ((112, 233), (130, 243), (135, 256), (134, 270), (135, 286))

# Where the tongue is highest for what the names say, along the roof from x to x.
UNDER_PALATE, UNDER_VELUM = (104, 150), (150, 180)
