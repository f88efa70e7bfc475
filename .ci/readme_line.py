"""Print a command of the README: `readme_line.py start` or `readme_line.py tests`.

The README marks its commands with an HTML comment before the code block, so that CI runs the very
line a reader copies.
"""

import re
import sys
from pathlib import Path

README = Path(__file__).resolve().parents[1] / "README.md"


def command(name, system="linux"):
    """Return the command in the block after `<!-- name system -->`."""
    text = README.read_text(encoding="utf-8")
    pattern = rf"<!-- {name} {system} -->\s*```\w*\n(.*?)\n```"
    found = re.search(pattern, text, re.DOTALL)
    if not found:
        raise SystemExit(f"README has no block marked '{name} {system}'")
    return found.group(1).strip()


if __name__ == "__main__":
    print(command(sys.argv[1]))
