"""Start here: ``python3 -m build_tools COMMAND``.

This file and ``__init__`` keep to words that Python 2.7 reads as well: an old Python must get far enough to say which
one is needed. Everything that is newer stands in the modules imported below.
"""
import sys

OLDEST = (3, 11)


def main(arguments):
    """Run one command inside the project's own environment; return the exit status."""
    if sys.version_info[:2] < OLDEST:
        sys.stderr.write(
            "This needs Python %d.%d or newer; you started it with Python %d.%d. "
            "Install a newer one and name it, for example: python%d.%d -m build_tools serve\n"
            % (OLDEST + tuple(sys.version_info[:2]) + OLDEST)
        )
        return 1
    from build_tools import commandline, environment

    extra = commandline.extra_for(arguments)
    if extra is not None:
        status = environment.enter(environment.Environment(environment.ROOT), extra, arguments)
        if status is not None:
            return status
    return commandline.main(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
