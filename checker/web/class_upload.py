"""The route of a class: files come in as a form, are handed to the pool as one value, and the table goes out.

Input: a request with a form of files. Output: a response. Nothing is kept: what was uploaded goes with the request.
"""

from __future__ import annotations

import msgspec
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from checker.web.api import shop_of
from checker.web.class_table import Upload
from checker.web.problems import MEDIA_TYPE, Problem
from checker.web.requests import NobodyWaits, done

_NO_FORM = "Send the files as a form, multipart/form-data, with the lists in the field 'lists'."
_NO_LISTS = "Choose what was handed in: a zip, or the lists."
_ONE_AT_A_TIME = "Only one file can be taken for '{field}'."
_MOST_FILES = 1000


async def check_class(request: Request) -> Response:
    """The table of a class."""
    shop = shop_of(request)
    if not request.headers.get("content-type", "").startswith("multipart/form-data"):
        raise Problem(415, _NO_FORM)
    shop.class_pool.must_have_room()
    async with request.form(max_files=_MOST_FILES, max_fields=_MOST_FILES) as form:
        payload = msgspec.msgpack.encode(await _upload(form))
    try:
        status, body = await done(request, shop.class_pool, "class", payload, shop.limits.class_seconds, 0.0)
    except NobodyWaits:
        return Response(status_code=499)
    return Response(body, status, media_type="application/json" if status == 200 else MEDIA_TYPE)


async def _upload(form: FormData) -> Upload:
    lists = [await _named(each) for each in form.getlist("lists") if isinstance(each, UploadFile)]
    if not lists:
        raise Problem(400, _NO_LISTS)
    return Upload(tuple(lists), *[await _one(form, field) for field in ("reference", "marks", "roster")])


async def _one(form: FormData, field: str) -> tuple[str, bytes] | None:
    files = [each for each in form.getlist(field) if isinstance(each, UploadFile) and each.filename]
    if len(files) > 1:
        raise Problem(400, _ONE_AT_A_TIME.format(field=field))
    return await _named(files[0]) if files else None


async def _named(file: UploadFile) -> tuple[str, bytes]:
    return file.filename or "list.legs", await file.read()
