"""Why a bat goes on with a reading past its limit."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("bench", "0004_leave"),
        ("commissions", "0002_consent"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Reason",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("round", models.PositiveSmallIntegerField()),
                (
                    "stage",
                    models.CharField(
                        choices=[
                            ("waiting", "waiting for the bench"),
                            ("cleft_selection", "cleft selection"),
                            ("pressing", "pressing"),
                            ("shaping", "shaping"),
                            ("handle_fitting", "handle fitting"),
                            ("finishing", "finishing"),
                            ("inspection", "final inspection"),
                            ("done", "done"),
                        ],
                        max_length=16,
                    ),
                ),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                ("about", models.CharField(max_length=40)),
                ("value", models.PositiveIntegerField()),
                ("words", models.TextField()),
                (
                    "bat",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to="commissions.bat"
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "takes_back",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="taken_back_by",
                        to="bench.reason",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
                "indexes": [models.Index(fields=["bat", "round"], name="reason_by_bat")],
            },
        ),
    ]
