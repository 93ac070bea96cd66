"""What a tablet shows of a site that lies on its home screen: W3C Web Application Manifest,
https://www.w3.org/TR/appmanifest/. It tells nobody whose it is, or what is practiced."""

from __future__ import annotations

import json

from builder.model.plan import Plan
from builder.text.wording import wording

MANIFEST_FILE = "app.webmanifest"
GROUND = "#e3ecee"  # --ground in tokens.css, in light
ICON_SIDES = (192, 512)  # pixels


def manifest(plan: Plan) -> str:
    """JSON; addresses are seen from the top of the site."""
    icons = [
        {
            "src": f"assets/icons/icon-{side}.png",
            "sizes": f"{side}x{side}",
            "type": "image/png",
            "purpose": purpose,
        }
        for side in ICON_SIDES
        for purpose in ("any", "maskable")
    ]
    name = wording(plan.interface[0], plan.helper)["frame.app"]
    entries = {
        "name": name,
        "short_name": name,
        "lang": plan.locale(plan.interface[0]),
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": GROUND,
        "theme_color": GROUND,
        "icons": icons,
    }
    return json.dumps(entries, ensure_ascii=False, indent=1) + "\n"
