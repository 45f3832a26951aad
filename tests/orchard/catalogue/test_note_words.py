from django.utils import translation

from orchard.catalogue import species_catalogue
from orchard.catalogue.note_words import NOTES, note_words


def test_every_note_of_the_table_is_marked_for_translation():
    told = {
        note
        for species in species_catalogue().values()
        for note in (
            species.toxicity_note,
            species.invasive_note,
            species.prune_reason,
            species.pup_notes,
            species.pollination_note,
        )
        if note
    }
    assert told == NOTES


def test_a_note_of_nobody_stands_as_it_is():
    with translation.override("es"):
        assert note_words("Ours alone, typed here.") == "Ours alone, typed here."
        assert note_words("") == ""
