"""The command `serve`: the site at a local address, built again and shown after every edit."""
