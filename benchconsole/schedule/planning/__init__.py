"""All hides at once: one pair of hands, so many tubs, real hours.

``problems`` is the bare question on a grid of quarter hours, ``plans`` the answer in the shop's
words. No drawing, no storing, no reading of the clock.
"""
