"""The one place where the package's own templates are loaded. Everything a template is given is escaped for HTML."""

from functools import cache
from importlib import resources

from jinja2 import Environment, FunctionLoader, StrictUndefined


def render(template: str, **values: object) -> str:
    """Return a template of this package filled in; unknown names raise, values are escaped unless they are Markup."""
    return _environment().get_template(template).render(values)


@cache
def load_text(name: str) -> str:
    """Return the text of a file beside the templates, such as a style sheet."""
    return resources.files("rabbetry.page").joinpath("templates", name).read_text(encoding="utf-8")


@cache
def _environment() -> Environment:
    return Environment(
        loader=FunctionLoader(load_text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
