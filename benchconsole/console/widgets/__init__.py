"""Drawing pieces that know nothing of hides or mixes."""
