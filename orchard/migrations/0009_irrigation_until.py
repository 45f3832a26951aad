"""Until when a sprinkler, timer or drip line runs by itself."""

from django.db import migrations, models


class Migration(migrations.Migration):
    """Give trees the last day of their standing irrigation."""

    dependencies = [("orchard", "0008_doubt_once_a_batch")]

    operations = [
        migrations.AddField(
            model_name="tree",
            name="irrigation_until",
            field=models.DateField(blank=True, null=True),
        )
    ]
