"""The site and the floor: settings, URLs and the maker's rooms."""
