"""What lifts the sets of limits that bind every plan, for checks that try other limits with plans made at random."""
import os
import re

_SETS = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../plans/library/limits-always.prill")
with open(_SETS) as _file:
    LIFTED = "".join(f'allow {name} "other limits are tried here"\n' for name in re.findall(r"^limits (\S+)", _file.read(), re.M))
