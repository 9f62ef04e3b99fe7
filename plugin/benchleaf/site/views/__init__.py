"""Views: what each page shows, worked out down to the words, for templates that only lay out.

One module for each page of a plan; each takes a `SoundPlan` and gives `Page` records.
"""
