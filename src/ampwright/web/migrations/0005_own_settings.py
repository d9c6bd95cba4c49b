from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("web", "0004_photos"),
    ]

    operations = [
        migrations.AddField(
            model_name="account",
            name="language",
            field=models.CharField(blank=True, default="", max_length=8),
        ),
        migrations.AddField(
            model_name="account",
            name="units",
            field=models.CharField(default="metric", max_length=8),
        ),
    ]
