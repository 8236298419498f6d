"""The job file's words for faces: face frame or none, overlay or inset, how doors are built."""

from typing import Annotated

from rabbetry.job.fields import choice
from rabbetry.job.model import DoorStyle, Faces, Mount

FacesWord = Annotated[str, *choice(Faces)]
MountWord = Annotated[str, *choice(Mount)]
DoorStyleWord = Annotated[str, *choice(DoorStyle)]
