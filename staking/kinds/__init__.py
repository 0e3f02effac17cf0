"""What a site file may ask for by `kind = "..."`: one file a kind, with its fields, its rule and its words."""
