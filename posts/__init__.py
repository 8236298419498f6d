"""The post-processors that ship with Rabbetry: one folder each, `post.toml` and `program.nc.j2`."""
