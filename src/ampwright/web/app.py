"""What Django has to know of this app."""

from __future__ import annotations

from pathlib import Path

from django.apps import AppConfig, apps
from django.conf import settings

from ampwright.web.desk import Desk
from ampwright.web.shelf import Shelf, Stock
from ampwright.web.worker import Worker

__all__ = ["WebApp", "the_desk", "the_stock", "workshop_folder"]


class WebApp(AppConfig):
    """The one app of the site."""

    name = "ampwright.web"
    label = "web"
    verbose_name = "Ampwright"
    desk: Desk
    shelf: Shelf

    def ready(self) -> None:
        """Set up the desk at which answers are reckoned, and the shelf of the workshop."""
        self.desk = Desk(Worker(rest_s=settings.AMPWRIGHT_PLACE.rest_s))
        self.shelf = Shelf()


def the_desk() -> Desk:
    """Return the desk of this process."""
    return _app().desk


def workshop_folder() -> Path:
    """Return the folder of what the workshop keeps for all its jobs."""
    return Path(settings.AMPWRIGHT_PLACE.data) / "workshop"


def the_stock() -> Stock:
    """Return what the workshop keeps now."""
    return _app().shelf.stock(workshop_folder())


def _app() -> WebApp:
    app = apps.get_app_config("web")
    if not isinstance(app, WebApp):  # only with other settings than ours
        raise TypeError(type(app).__name__)
    return app
