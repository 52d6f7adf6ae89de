"""Reading a request's JSON: whole, strictly, and without ever repeating it back.

FastAPI's own reading lets NaN, 1e400 and deep nesting through and quotes the input in its errors, so bodies are read
here and checked by a model; `takes` puts that model into the OpenAPI description all the same.
"""

from __future__ import annotations

import asyncio
import json
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError
from starlette.requests import Request

from plytide.api.answers import Refused

BODY_S = 60  # a body that takes longer than this to arrive is given up


class Form(BaseModel):
    """Common ground of request bodies: types as written, unknown fields let pass for newer phones."""

    model_config = ConfigDict(strict=True, extra="ignore", allow_inf_nan=False)


F = TypeVar("F", bound=Form)


async def read(request: Request, form: type[F]) -> F:
    """The body as a `form`. `Refused`: 408 too slow, 400 not JSON, 422 not of the form (says where, not what)."""
    try:
        async with asyncio.timeout(BODY_S):
            raw = await request.body()
    except TimeoutError:
        raise Refused(408, "slow", "The request did not arrive in time. It is tried again.") from None
    try:
        return form.model_validate(loads(raw))
    except ValidationError as error:
        first = error.errors(include_input=False, include_url=False, include_context=False)[0]
        where = ".".join(str(part) for part in first["loc"][:1]) or "the body"
        raise Refused(422, "bad_form", f"The request is not of the form it should be, at: {where}.") from None


def loads(raw: bytes) -> Any:
    """JSON from bytes, or 400.

    NaN, Infinity and 1e400 become floats that no model takes: inside a batch they then cost one entry, not its
    neighbours.
    """
    try:
        return json.loads(raw.decode("utf-8"))
    except RecursionError:
        raise Refused(400, "too_deep", "The request is nested too deeply.") from None
    except ValueError:
        raise Refused(400, "not_json", "The request is not JSON.") from None


def takes(form: type[Form]) -> dict[str, Any]:
    """What a route that calls `read` says of its body in the OpenAPI description."""
    schema = form.model_json_schema()
    return {"requestBody": {"required": True, "content": {"application/json": {"schema": schema}}}}
