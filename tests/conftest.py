"""What all tests share: properties try the same examples in every run.

A run says then what the code is like and not what the dice were like. To look for more, let them
roll: ``python -m pytest --hypothesis-profile=search``, and keep what it finds as an ``@example``.
"""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("search", derandomize=False, deadline=None)
settings.load_profile("same")
