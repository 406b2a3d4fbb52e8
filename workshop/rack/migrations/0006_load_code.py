"""A code for each load, so that no address shows a primary key."""

from django.db import migrations, models

import orders.people.codes


def give_codes(apps, schema_editor):
    """Give each load that is there a code of its own: a default is worked out once for all rows."""
    for load in apps.get_model("rack", "Load").objects.all():
        load.code = orders.people.codes.new_code()
        load.save(update_fields=["code"])


class Migration(migrations.Migration):
    dependencies = [("rack", "0005_files")]

    operations = [
        migrations.AddField("load", "code", models.CharField(default="", editable=False, max_length=10)),
        migrations.RunPython(give_codes, migrations.RunPython.noop),
        migrations.AlterField(
            "load",
            "code",
            models.CharField(
                default=orders.people.codes.new_code, editable=False, max_length=10, unique=True
            ),
        ),
    ]
