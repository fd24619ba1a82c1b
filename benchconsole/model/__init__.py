"""What the shop knows, as frozen records, and the fold from what happened to how things stand.

No arithmetic of mixes or plans belongs here, no reading of files and no clock.
"""
