"""What clefts told in words of their loads and grain, written as it is told now.

By itself, since PostgreSQL lets no table be altered in the transaction that changed its rows.
"""

from django.db import migrations

# What “not straight” becomes, since it was never measured: the gentlest run-out that is still a fault.
NOT_STRAIGHT = 11
NOT_STRAIGHT_NOTE = "Noted as not straight in the grain before run-out was measured."


def loads_from_words(apps, schema_editor):
    """Make a load of each pair of load and grower that the clefts name."""
    clefts, loads = apps.get_model("rack", "Cleft").objects, apps.get_model("rack", "Load").objects
    found, names = {}, set()
    for cleft in clefts.order_by("taken_in_at", "pk"):
        if not cleft.straight_grained:
            cleft.run_out = NOT_STRAIGHT
            cleft.note = "\n".join(part for part in (cleft.note, NOT_STRAIGHT_NOTE) if part)
        words = (cleft.load_words, cleft.grower)
        if any(words):
            if words not in found:
                found[words] = loads.create(
                    name=_free_name(*words, names), grower=cleft.grower, arrived_on=cleft.taken_in_at.date()
                )
            cleft.load = found[words]
        cleft.save(update_fields=["run_out", "note", "load"])


def _free_name(load, grower, names):
    """Return a name that no other load has: two growers may each have sent a load of the same name."""
    name, at = (load or grower)[:110], 1
    while name in names:
        at += 1
        name = f"{(load or grower)[:110]} {at}"
    names.add(name)
    return name


def words_from_loads(apps, schema_editor):
    """Write the loads' names back beside the clefts."""
    for cleft in apps.get_model("rack", "Cleft").objects.select_related("load"):
        cleft.straight_grained = cleft.run_out is None or cleft.run_out >= 12
        if cleft.load is not None:
            cleft.load_words, cleft.grower = cleft.load.name[:80], cleft.load.grower
        cleft.save(update_fields=["straight_grained", "load_words", "grower"])


class Migration(migrations.Migration):
    dependencies = [("rack", "0002_wood")]

    operations = [migrations.RunPython(loads_from_words, words_from_loads)]
