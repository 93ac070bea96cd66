"""The data blocks of pages: what the modules there need, as one JSON value each.

site_templates/types.d.ts states the same shapes; a test compares them.
"""
