"""The three panes of the bench: hides, mix, timers. They post messages upward, never sideways."""
