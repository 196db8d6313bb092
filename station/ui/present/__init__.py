"""From the plant as it stands to what a screen shows: decided and worded here, without Qt."""
