"""From a `Design` to cuts, solids, findings and files; usable from Python alone.

Start with `design.py` (the records), `plan.cut_plan` (joins to cuts), `checks.check` (findings) and
`export.export_files` (bytes). Nothing here imports the language or the viewer.
"""
