from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("bench", "0005_reason")]

    operations = [migrations.RenameField("targets", "version", "build_version")]
