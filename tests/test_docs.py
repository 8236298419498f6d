"""Documents made from the code say what it says; `pytest --rewrite-golden tests/test_docs.py` writes them anew."""

import json
from pathlib import Path

import pytest

from rabbetry.files import load_post, post_names
from rabbetry.findings import CODES
from rabbetry.manifest import Manifest
from rabbetry.pipeline import PostText
from rabbetry.post.capabilities import POST_KEYS, Post
from rabbetry.post.template import TEMPLATE_NAMES, WORDS_FILTER
from rabbetry.post.traits import TRAITS

DOCS = Path(__file__).parent.parent / "docs"


def _findings_md() -> str:
    lines = [
        "# Findings",
        "",
        "Everything Rabbetry has to say about a readable job or program is a finding: severity, code, sentence, place.",
        "An error keeps the sheet's programs from being released and makes the exit status 1. A wrong input is no",
        "finding: it is told at once and the exit status is 2. This list is made from `src/rabbetry/findings.py`.",
        "",
        "| code | severity | stage | meaning |",
        "| --- | --- | --- | --- |",
    ]
    rows = sorted(CODES.items(), key=lambda item: (item[1].stage, item[0]))
    lines += [f"| `{code}` | {row.severity} | {row.stage} | {row.meaning} |" for code, row in rows]
    return "\n".join(lines) + "\n"


def _template_md() -> str:
    lines = [
        "# Posts: what post.toml says and what a template may use",
        "",
        "A post is a folder with `post.toml` and `program.nc.j2`. Made from `src/rabbetry/post/`; a name not listed",
        "here is refused with file, line and the nearest name.",
        "",
        "## post.toml",
        "",
        "| key | meaning |",
        "| --- | --- |",
        *(f"| `{row[0]}` | {' '.join(row[1:])} |" for row in POST_KEYS),
        "",
        "## program.nc.j2",
        "",
        "The template is Jinja2, run in a sandbox. It owns every word that is written; numbers come ready-rounded.",
        "",
        "| name | meaning |",
        "| --- | --- |",
        *(f"| `{name}` | {meaning} |" for name, meaning in TEMPLATE_NAMES),
        "",
        f"`{WORDS_FILTER[0]}`: {WORDS_FILTER[1]}",
    ]
    return "\n".join(lines) + "\n"


def _post(name: str) -> Post:
    folder, toml, template = load_post(name, beside=DOCS)
    return PostText(name=folder, toml=toml, template=template).read()


def _posts_md() -> str:
    posts = [_post(name) for name in post_names()]
    lines = [
        "# Posts that ship",
        "",
        "Each is named by what its controller is like. Made from the posts; `rabbetry post show NAME` prints one, and",
        "[new-machine.md](new-machine.md) makes another. All of them cut the same solids.",
        "",
        *(f"- `{post.name}`: {post.title}" for post in posts),
        "",
        "| trait | " + " | ".join(f"`{post.name}`" for post in posts) + " |",
        "| --- |" + " --- |" * len(posts),
        *(f"| {title} | " + " | ".join(said(post) for post in posts) + " |" for title, said in TRAITS),
    ]
    return "\n".join(lines) + "\n"


def test_posts_differ_in_every_trait_and_no_two_are_alike() -> None:
    posts = [_post(name) for name in post_names()]
    assert len(posts) >= 8
    for title, said in TRAITS:
        assert len({said(post) for post in posts}) > 1, f"every post says the same of: {title}"
    assert len({tuple(said(post) for _, said in TRAITS) for post in posts}) == len(posts)


def _manifest_schema() -> str:
    return json.dumps(Manifest.model_json_schema(), indent=1) + "\n"


DOCUMENTS = {
    "findings.md": _findings_md,
    "manifest.schema.json": _manifest_schema,
    "post-template.md": _template_md,
    "posts.md": _posts_md,
}


@pytest.mark.parametrize("name", sorted(DOCUMENTS))
def test_a_generated_document_is_up_to_date(name: str, request: pytest.FixtureRequest) -> None:
    text = DOCUMENTS[name]()
    if request.config.getoption("--rewrite-golden"):
        (DOCS / name).write_text(text, encoding="utf-8")
    assert (DOCS / name).read_text(encoding="utf-8") == text


def test_every_code_is_a_kebab_case_word_with_a_meaning() -> None:
    for code, row in CODES.items():
        assert code == code.lower()
        assert set(code) <= set("abcdefghijklmnopqrstuvwxyz0123456789-"), code
        assert len(row.meaning) > 10, code
