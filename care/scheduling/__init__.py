"""Who goes when: windows into rounds, rounds into a rota.

Pure: dates and whole numbers in, dates and names out. No Django, no clock, no I/O;
"today" is always passed in.
"""
