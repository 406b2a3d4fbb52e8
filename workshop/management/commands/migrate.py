"""Django's migrate, with a backup first whenever it is going to change a database that holds something."""

from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.core.management.commands.migrate import Command as DjangoMigrate
from django.db import connections

from workshop.backups import BackupError, back_up, make_room_for_database, will_change


class Command(DjangoMigrate):
    help = f"{DjangoMigrate.help} A backup is taken before."

    def add_arguments(self, parser: CommandParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("--no-backup", action="store_true", help="Take no backup before migrating.")

    def handle(self, *args: Any, **options: Any) -> None:
        connection = connections[options["database"]]
        make_room_for_database(connection)
        only_looking = options["plan"] or options["check_unapplied"]
        if not only_looking and not options["no_backup"]:
            target = (options["app_label"], options["migration_name"])
            if will_change(connection, target):
                try:
                    kept = back_up(connection, settings.BACKUP_DIR)
                except BackupError as error:
                    raise CommandError(f"Nothing was migrated: {error}") from error
                if options["verbosity"]:
                    self.stdout.write(f"Backup before migrating: {kept}")
        super().handle(*args, **options)
