"""How paste warms, reckoned or fitted beforehand: the only place with numpy and scipy, never loaded at start-up."""
