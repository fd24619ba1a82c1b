"""Full screens; each owns its state and hands slices to its panes."""
