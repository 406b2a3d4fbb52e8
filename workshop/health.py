"""Whether the site can do its work, for a container's or a proxy's health check."""

import shutil

from django.conf import settings
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from orders.people.doors import ANYONE, open_to

LEAST_FREE_BYTES = 200 * 1024 * 1024


@require_safe
@open_to(ANYONE)
@never_cache
def health(request: HttpRequest) -> JsonResponse:
    """Answer 200 when the database answers and the disk has room, else 503; tells nothing else."""
    found = {"database": _database_answers(), "disk": _disk_has_room()}
    status = 200 if all(found.values()) else 503
    return JsonResponse({name: "ok" if good else "failing" for name, good in found.items()}, status=status)


def _database_answers() -> bool:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
            return bool(cursor.fetchone() == (1,))
    except DatabaseError:
        return False


def _disk_has_room() -> bool:
    folder = settings.DATA_DIR
    while not folder.exists():
        folder = folder.parent
    return shutil.disk_usage(folder).free >= LEAST_FREE_BYTES
