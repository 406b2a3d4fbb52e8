"""What the words were kept in goes; blemishes and photographs of clefts come."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

import orders.people.codes
import workshop.rack.models


class Migration(migrations.Migration):
    dependencies = [
        ("commissions", "0001_initial"),
        ("letters", "0001_initial"),
        ("rack", "0003_loads"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveField(model_name="cleft", name="load_words"),
        migrations.RemoveField(model_name="cleft", name="grower"),
        migrations.RemoveField(model_name="cleft", name="straight_grained"),
        migrations.CreateModel(
            name="Blemish",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("knot", "knot"),
                            ("speck", "speck"),
                            ("shake", "shake"),
                            ("worm", "worm hole"),
                            ("stain", "stain"),
                            ("butterfly", "butterfly stain"),
                        ],
                        max_length=10,
                        verbose_name="kind",
                    ),
                ),
                (
                    "side",
                    models.CharField(
                        choices=[
                            ("a", "side A"),
                            ("b", "side B"),
                            ("edge_1", "edge 1"),
                            ("edge_2", "edge 2"),
                        ],
                        max_length=6,
                        verbose_name="side",
                    ),
                ),
                ("from_end", models.PositiveIntegerField(verbose_name="from end 1")),
                ("across", models.PositiveIntegerField(verbose_name="across")),
                ("size", models.PositiveIntegerField(verbose_name="size")),
                ("through", models.BooleanField(default=False, verbose_name="goes right through")),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
            ],
            options={
                "ordering": ("from_end", "pk"),
            },
        ),
        migrations.CreateModel(
            name="CleftPhoto",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "code",
                    models.CharField(
                        default=orders.people.codes.new_code, editable=False, max_length=10, unique=True
                    ),
                ),
                ("file", models.FileField(upload_to=workshop.rack.models.cleft_photo_path)),
                ("width", models.PositiveIntegerField()),
                ("height", models.PositiveIntegerField()),
                ("caption", models.CharField(blank=True, max_length=200, verbose_name="caption")),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
            ],
            options={
                "ordering": ("at", "pk"),
            },
        ),
        migrations.AddConstraint(
            model_name="cleft",
            constraint=models.CheckConstraint(
                condition=models.Q(("heartwood__isnull", True), ("heartwood__lte", 100), _connector="OR"),
                name="cleft_heartwood_percent",
            ),
        ),
        migrations.AddConstraint(
            model_name="cleft",
            constraint=models.CheckConstraint(
                condition=models.Q(("run_out__isnull", True), ("run_out__gte", 1), _connector="OR"),
                name="cleft_run_out_1_in",
            ),
        ),
        migrations.AddField(
            model_name="blemish",
            name="by",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="blemish",
            name="cleft",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="blemishes", to="rack.cleft"
            ),
        ),
        migrations.AddField(
            model_name="cleftphoto",
            name="by",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="cleftphoto",
            name="cleft",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="photos", to="rack.cleft"
            ),
        ),
        migrations.AddField(
            model_name="cleftphoto",
            name="shown_as",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to="letters.photo",
            ),
        ),
        migrations.AddConstraint(
            model_name="blemish",
            constraint=models.CheckConstraint(
                condition=models.Q(("side__in", ("a", "b", "edge_1", "edge_2"))), name="blemish_side_known"
            ),
        ),
    ]
