"""From a worked plan to pages: what is shown, how it is laid out, and how it reaches a site.

Takes a `WorkedPlan` and its drawings; gives files as data (`pages`), which `plugin` hands to MkDocs
and `export` writes to a folder. Only `plugin` knows MkDocs; only `templating` knows Jinja.
"""
