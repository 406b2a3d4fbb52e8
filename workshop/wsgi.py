"""The WSGI entry; refuses to start without the secrets."""

import os

from django.core.wsgi import get_wsgi_application

from workshop.environment import read_environment, require_secrets

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
require_secrets(read_environment())
application = get_wsgi_application()
