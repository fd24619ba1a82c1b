"""What next and when, as pure functions of routes, history, hours and ``now``.

No drawing, no storing, no reading of the clock.
"""
