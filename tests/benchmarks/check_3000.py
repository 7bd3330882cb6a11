"""How long it takes to check 3000 entries: `python tests/benchmarks/check_3000.py [NUMBER]`, from the project's root.

The entries are the real ones and copies of them, in a temporary folder. Each round of copies has its own ids, words and references, so that it is as
well linked as the original and no rule stops early; the check must find no problems. Constants and sources are not copied: there is one table of
units, and one book.
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
COPIED = ("terms", "trains", "addons", "features", "counts", "questions", "calculations", "melodies", "cautions", "symptoms", "sayings")
REFERENCE = re.compile(r"\b(term|train|addon|feature|count|question|calculation|melody|caution|symptom|saying):([a-z0-9]+(?:-[a-z0-9]+)*)")


def write_entries(root: Path, number: int) -> int:
    """Fill root/kb with at least `number` entries in whole rounds; return how many there are."""
    originals = sorted((PROJECT / "kb").glob("*/*.yaml"))
    to_copy = [path for path in originals if path.parent.name in COPIED]
    rounds = -(-(number - len(originals)) // len(to_copy))
    for each in range(rounds + 1):
        for path in to_copy if each else originals:
            text = path.read_text(encoding="utf-8")
            target = root / "kb" / path.parent.name / (f"{path.stem}-copy{each}.yaml" if each else path.name)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(copied(text, each) if each else text, encoding="utf-8")
    return len(originals) + rounds * len(to_copy)


def copied(text: str, each: int) -> str:
    """An entry's text with ids, references and words of its own."""
    text = REFERENCE.sub(rf"\1:\2-copy{each}", text)
    text = re.sub(r"(?m)^( +fill: [a-z-]+)(\.)", rf"\1-copy{each}\2", text)
    text = re.sub(r"(?m)^id: (\S+)$", rf"id: \1-copy{each}", text)
    text = re.sub(r'(?m)^word: "?(.*?)"?$', rf'word: "\1 {each}"', text)
    return re.sub(r"(?m)^(also|american): \[(.*)\]$", lambda line: f"{line[1]}: [{', '.join(_names(line[2], each))}]", text)


def _names(listed: str, each: int) -> list[str]:
    return [f'"{name.strip().strip(chr(34))} {each}"' for name in listed.split(",")]


def main() -> None:
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    with tempfile.TemporaryDirectory() as folder:
        entries = write_entries(Path(folder), number)
        command = [
            sys.executable,
            "-c",
            "import sys; from build_tools.commandline import main; sys.exit(main(sys.argv[1:]))",
            "check",
            "--root",
            folder,
        ]
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        run = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True, encoding="utf-8")
        wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    print(
        f"{entries} entries: {processor:.2f} s of processor time, {wall:.2f} s on the wall; the check says: {run.stdout.strip().splitlines()[-1]}"
    )


if __name__ == "__main__":
    main()
