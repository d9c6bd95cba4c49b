"""What Django has to know of this app."""

from __future__ import annotations

from django.apps import AppConfig, apps
from django.conf import settings

from ampwright.web.desk import Desk
from ampwright.web.worker import Worker

__all__ = ["WebApp", "the_desk"]


class WebApp(AppConfig):
    """The one app of the site."""

    name = "ampwright.web"
    label = "web"
    verbose_name = "Ampwright"
    desk: Desk

    def ready(self) -> None:
        """Set up the desk at which answers are reckoned."""
        self.desk = Desk(Worker(rest_s=settings.AMPWRIGHT_PLACE.rest_s))


def the_desk() -> Desk:
    """Return the desk of this process."""
    app = apps.get_app_config("web")
    if not isinstance(app, WebApp):  # only with other settings than ours
        raise TypeError(type(app).__name__)
    return app.desk
