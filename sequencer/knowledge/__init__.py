"""Trade knowledge: what `operations/` and `hazards/` say, checked on loading. Data stays data; this room holds no trade."""
