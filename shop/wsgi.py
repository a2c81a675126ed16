"""The site for a WSGI server; its process also works planning runs, unless Celery workers do."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
application = get_wsgi_application()

from shop.plans import worker  # noqa: E402 - models can be imported only once Django is set up

worker.start_with_server()
