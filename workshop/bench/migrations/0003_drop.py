from typing import Any

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies: list[Any] = [("bench", "0002_targets")]

    operations = [
        migrations.AddField(model_name="presspass", name="drop", field=models.JSONField(default=dict)),
    ]
