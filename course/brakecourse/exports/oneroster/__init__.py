"""The class list and all results as a OneRoster 1.2 bulk package, for the school's own system.

Source of the rules: 1EdTech OneRoster 1.2, CSV binding, as the project's design notes restate them.
"""

from brakecourse.exports.oneroster.bulk import Bulk, oneroster_package, write_oneroster

__all__ = ["Bulk", "oneroster_package", "write_oneroster"]
