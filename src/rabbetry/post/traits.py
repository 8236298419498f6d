"""In what posts differ, as rows of one table: docs/posts.md is made from it."""

from collections.abc import Callable

from rabbetry.post.capabilities import Post

TRAITS: tuple[tuple[str, Callable[[Post], str]], ...] = (
    ("units", lambda post: post.units),
    ("decimals of lengths", lambda post: f"{post.length_decimals}, {'trimmed' if post.trim_zeros else 'all written'}"),
    ("motion word", lambda post: "on every line" if post.repeat_words else "where it changes"),
    ("line numbers", lambda post: f"by {post.line_numbers}" if post.line_numbers else "none"),
    ("arcs", lambda post: {"centre": "by centre", "radius": "by radius", "none": "lines"}[post.arcs]),
    ("drilling cycles", lambda post: ", ".join(post.cycles) or "plain moves"),
    ("comments", lambda post: post.comments),
    ("never in a comment", lambda post: f"`{post.forbidden_in_comments}`" if post.forbidden_in_comments else "none"),
    ("longest line", lambda post: str(post.line_limit or "any")),
    ("line end", lambda post: "CR LF" if post.line_end == "crlf" else "LF"),
    ("file ending", lambda post: f"`{post.extension}`"),
    ("file name", lambda post: f"{post.name_length} letters" if post.name_length else "any length"),
    ("per cent signs", lambda post: "about the program" if post.percent_lines else "none"),
    ("wait", lambda post: {"s": "seconds", "ms": "milliseconds"}[post.dwell]),
    ("spindle", lambda post: {"word": "M3", "reversed": "M4, reversed", "hand": "switch and dial"}[post.spindle]),
    ("work offset", lambda post: post.work_offset or "no word"),
    (
        "change of cutter",
        lambda post: {"word": "M6", "pause": "M0, one program", "file": "a program each"}[post.tool_change],
    ),
    ("touch-off", lambda post: {"any": "as you like", "paper": "paper", "plate": "plate"}[post.touch_off]),
    ("first and last lift", lambda post: "top of Z (G53)" if post.safe_height == "machine" else "above the work"),
    ("traverse", lambda post: f"G1 at {post.rapid_feed:g}" if post.rapids == "feed" else "G0"),
    ("end", lambda post: post.program_end),
    ("read as", lambda post: post.dialect),
)
"""Title of a trait, and what a post says of it."""
