"""OneRoster packages: a school's class lists in the 1EdTech standard's CSV binding, versions 1.1 and 1.2."""

from brakecourse.classroom.oneroster.archive import PackageLimits
from brakecourse.classroom.oneroster.package import Package, read_package
from brakecourse.classroom.oneroster.people import (
    OfferedClass,
    Person,
    SeveralClasses,
    chosen_class,
    combined,
    narrowed,
    offered_classes,
    people_of,
)
from brakecourse.classroom.oneroster.trouble import PackageError
from brakecourse.classroom.oneroster.writing import package_bytes

__all__ = [
    "OfferedClass",
    "Package",
    "PackageError",
    "PackageLimits",
    "Person",
    "SeveralClasses",
    "chosen_class",
    "combined",
    "narrowed",
    "offered_classes",
    "package_bytes",
    "people_of",
    "read_package",
]
