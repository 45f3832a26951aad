from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("orchard", "0006_weather_that_arrives"),
    ]

    operations = [
        migrations.AddField(
            model_name="stationkey",
            name="wind_height_m",
            field=models.FloatField(default=2.0),
        ),
        migrations.AddField(
            model_name="sentreading",
            name="gust_ms",
            field=models.FloatField(null=True),
        ),
    ]
