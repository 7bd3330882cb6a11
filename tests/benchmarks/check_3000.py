"""How long it takes to check 3000 entries: `python tests/benchmarks/check_3000.py [NUMBER]`, from the project's root.

The entries are copies of the real ones in a temporary folder. Each round of copies has its own ids, words and references, so that a round is as
well linked as the original and no rule stops early. The constants are not copied: they are tables of which there is one.
The time is that of the whole command in a fresh Python, start and imports included: the processor's time, and the clock on the wall.
"""

from __future__ import annotations

import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
FOLDERS = ("terms", "trains", "addons", "features", "counts", "questions", "calculations", "melodies", "cautions", "sources")
REFERENCE = re.compile(r"\b(term|train|addon|feature|count|question|calculation|melody|caution|source):([a-z0-9]+(?:-[a-z0-9]+)*)")


def write_entries(root: Path, number: int) -> int:
    """Fill root/kb with at least `number` entries in whole rounds; return how many there are."""
    constants = sorted((PROJECT / "kb" / "constants").glob("*.yaml"))
    originals = [path for folder in FOLDERS for path in sorted((PROJECT / "kb" / folder).glob("*.yaml"))]
    for folder in ("constants", *FOLDERS):
        (root / "kb" / folder).mkdir(parents=True)
    for path in constants:
        (root / "kb" / "constants" / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    rounds = -(-(number - len(constants)) // len(originals))
    for each in range(rounds):
        for path in originals:
            target = root / "kb" / path.parent.name / f"{path.stem}-copy{each}.yaml"
            target.write_text(copied(path.read_text(encoding="utf-8"), each), encoding="utf-8")
    return len(constants) + rounds * len(originals)


def copied(text: str, each: int) -> str:
    """An entry's text with ids, references and words of its own."""
    text = REFERENCE.sub(rf"\1:\2-copy{each}", text)
    text = re.sub(r"(?m)^id: (\S+)$", rf"id: \1-copy{each}", text)
    text = re.sub(r'(?m)^word: "?(.*?)"?$', rf'word: "\1 {each}"', text)
    return re.sub(r"(?m)^(also|american): \[(.*)\]$", lambda line: f"{line[1]}: [{', '.join(_names(line[2], each))}]", text)


def _names(listed: str, each: int) -> list[str]:
    return [f'"{name.strip().strip(chr(34))} {each}"' for name in listed.split(",")]


def main() -> None:
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    with tempfile.TemporaryDirectory() as folder:
        entries = write_entries(Path(folder), number)
        command = [sys.executable, "-c", "import sys; from build_tools.commandline import main; sys.exit(main(sys.argv[1:]))", "check", "--root", folder]
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        run = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True, encoding="utf-8")
        wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    print(f"{entries} entries: {processor:.2f} s of processor time, {wall:.2f} s on the wall; the check says: {run.stdout.strip().splitlines()[-1]}")


if __name__ == "__main__":
    main()
