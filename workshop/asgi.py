"""The ASGI entry; refuses to start without the secrets."""

import os

from django.core.asgi import get_asgi_application

from workshop.environment import read_environment, require_secrets

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
require_secrets(read_environment())
application = get_asgi_application()
