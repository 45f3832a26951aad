from orchard.catalogue import cultivar_catalogue
from orchard.catalogue.cultivar_notes import CULTIVAR_NOTES


def test_every_note_of_the_table_is_marked_for_translation():
    told = {
        note
        for cultivar in cultivar_catalogue().values()
        for note in (cultivar.bloom_note, cultivar.partner_note, cultivar.harvest_note)
        if note
    }
    assert told == CULTIVAR_NOTES
