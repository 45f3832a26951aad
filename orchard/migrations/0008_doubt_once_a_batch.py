from django.db import migrations, models
from django.db.models import Q


class Migration(migrations.Migration):
    dependencies = [
        ("orchard", "0007_wind_of_own_stations"),
    ]

    operations = [
        migrations.RemoveConstraint(model_name="doubtedvalue", name="doubt_once"),
        migrations.AddConstraint(
            model_name="doubtedvalue",
            constraint=models.UniqueConstraint(
                condition=Q(settled_at=None),
                fields=("series", "batch", "day", "variable"),
                name="doubt_once",
            ),
        ),
    ]
