"""The accessibility rules of axe for an open page: `AXE.run(page)`."""
from __future__ import annotations

from axe_playwright_python.base import AXE_SCRIPT
from axe_playwright_python.sync_playwright import Axe

# For each colour that it mixes, axe fills six weak maps; on a long list of words that is half of its work. These hold what they are given on the objects
# themselves. The rules are loaded once a page.
SCRIPT = f"""if (!window.axe) {{
  class Held {{
    #key = Symbol();
    has(one) {{ return this.#key in one; }}
    get(one) {{ return one[this.#key]; }}
    set(one, value) {{ one[this.#key] = value; return this; }}
    add(one) {{ return this.set(one, true); }}
    delete(one) {{ return delete one[this.#key]; }}
  }}
  ((WeakMap, WeakSet) => {{ {AXE_SCRIPT}
  }})(Held, Held);
}}"""
AXE = Axe(SCRIPT)
# What else the rules look at is the same in the dark. Without the first word every node that is right is reported, too: minutes on a long list.
ABOUT_COLOUR = {"resultTypes": ["violations"], "runOnly": {"type": "tag", "values": ["cat.color"]}}
