"""All benchmarks, one after the other: python -m tests.benchmarks."""

from tests.benchmarks import (
    alignment,
    build,
    clips,
    criteria,
    kills,
    log_kills,
    sources,
    split,
    spoiled,
    thirty_days,
    vocal_tracts,
)

if __name__ == "__main__":
    build.main()
    clips.main()
    kills.main()
    log_kills.main()
    sources.main()
    alignment.main()
    split.main()
    spoiled.main()
    vocal_tracts.main()
    thirty_days.main()
    criteria.main()
