"""What of a planting sheet was ticked, step by step."""

from django.db import models

from orchard.models import Person, WantedTree


class PlantingStep(models.Model):
    """One step of a tree's planting sheet that somebody ticked.

    ``amount`` is what was measured or given, in the SI unit of the step.
    """

    wanted = models.ForeignKey(
        WantedTree, on_delete=models.CASCADE, related_name="steps"
    )
    code = models.CharField(max_length=24)
    on = models.DateField()
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    recorded_at = models.DateTimeField()
    amount = models.FloatField(null=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["wanted", "code"], name="planting_step_once"
            )
        ]

    def __str__(self) -> str:
        return self.code
