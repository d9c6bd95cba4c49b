"""Results are kept for what the workshop kept at that time."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import migrations, models


class Migration(migrations.Migration):
    """Add what tells the workshop's parts and modules."""

    dependencies: ClassVar[list[Any]] = [("web", "0002_tokens")]

    operations: ClassVar[list[Any]] = [
        migrations.RemoveConstraint(model_name="result", name="one_result_a_day"),
        migrations.AddField(
            model_name="result",
            name="workshop",
            field=models.CharField(blank=True, default="", max_length=32),
        ),
        migrations.AddConstraint(
            model_name="result",
            constraint=models.UniqueConstraint(
                fields=("revision", "program_version", "on", "workshop"), name="one_result_a_day"
            ),
        ),
    ]
