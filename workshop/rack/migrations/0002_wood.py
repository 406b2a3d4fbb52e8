"""Loads as rows of their own, run-out instead of yes or no, heartwood, where the moisture was read."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("rack", "0001_initial"),
    ]

    operations = [
        migrations.CreateModel(
            name="Load",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=120, unique=True, verbose_name="name")),
                ("grower", models.CharField(blank=True, max_length=120, verbose_name="grower")),
                ("felled_on", models.DateField(blank=True, null=True, verbose_name="felled on")),
                ("kiln_sheet", models.TextField(blank=True, verbose_name="kiln sheet")),
                (
                    "price_a_piece",
                    models.PositiveIntegerField(blank=True, null=True, verbose_name="price a piece"),
                ),
                (
                    "count",
                    models.PositiveIntegerField(blank=True, null=True, verbose_name="pieces delivered"),
                ),
                ("arrived_on", models.DateField(blank=True, null=True, verbose_name="arrived on")),
                ("note", models.TextField(blank=True, verbose_name="note")),
                ("version", models.PositiveIntegerField(default=0)),
            ],
            options={"ordering": ("-arrived_on", "name")},
        ),
        migrations.RenameField(model_name="cleft", old_name="load", new_name="load_words"),
        migrations.AddField(
            model_name="cleft",
            name="load",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="clefts",
                to="rack.load",
                verbose_name="load",
            ),
        ),
        migrations.AddField(
            model_name="cleft",
            name="run_out",
            field=models.PositiveSmallIntegerField(blank=True, null=True, verbose_name="run-out, 1 in"),
        ),
        migrations.AddField(
            model_name="cleft",
            name="heartwood",
            field=models.PositiveSmallIntegerField(blank=True, null=True, verbose_name="heartwood"),
        ),
        migrations.AddField(
            model_name="cleft",
            name="moisture_at",
            field=models.CharField(
                blank=True,
                choices=[
                    ("face", "middle of a broad side"),
                    ("edge", "middle of an edge"),
                    ("end", "near an end"),
                    ("waste", "fresh cut in the waste"),
                ],
                max_length=8,
                verbose_name="moisture read at",
            ),
        ),
    ]
