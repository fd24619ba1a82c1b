"""Amounts: targets, worksheets, weighing out, rebalancing. Pure arithmetic on formulas.

No schedule, no storing and no screens.
"""
