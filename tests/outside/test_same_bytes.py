"""Every mesh file and the picture have the same bytes in every process: other hash seeds, one
thread or two, other work done before."""

import os
import subprocess
import sys
from pathlib import Path

CODE = """
import hashlib, sys
sys.path.insert(0, {tests!r})
from handmade import bench_plan
from dryfit.kernel.export.gltf import gltf_files
from dryfit.kernel.export.stl import stl_files
from dryfit.kernel.export.threemf import threemf_files
from dryfit.kernel.picture import picture
plan = bench_plan()
for _ in range({before}):
    stl_files(plan, 0.5)
for make in (stl_files, gltf_files, threemf_files):
    for name, data in make(plan, 0.005).items():
        print(name, hashlib.sha256(data).hexdigest())
print(hashlib.sha256(picture(plan).encode()).hexdigest())
"""


def digests(seed: str, before: int, *, one_core: bool) -> str:
    code = CODE.format(tests=str(Path(__file__).parents[1]), before=before)
    if one_core and hasattr(os, "sched_setaffinity"):
        code = f"import os; os.sched_setaffinity(0, {{min(os.sched_getaffinity(0))}})\n{code}"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONHASHSEED": seed},
        cwd=Path(sys.prefix),
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def test_bytes_are_the_same_in_every_process() -> None:
    first = digests("0", 0, one_core=False)
    assert len(first.splitlines()) == 3 * 5 + 1
    assert digests("1", 0, one_core=True) == first
    assert digests("99", 3, one_core=False) == first
