"""The kinds of problem that a request can meet, in one table; the documentation shows it."""

from __future__ import annotations

from typing import Final

from gripwright_server.http.problem import Kind

KINDS: Final = (
    UNREADABLE_BODY := Kind(
        "unreadable-body",
        400,
        "The request cannot be read",
        "Send one JSON object in UTF-8, without NaN, without a member twice.",
    ),
    FOREIGN_HOST := Kind(
        "foreign-host",
        400,
        "This service is not called by that name",
        "Call it by a name that was given to --trusted-host.",
    ),
    BAD_REQUEST := Kind(
        "bad-request", 400, "The request is not well-formed", "Send a request as RFC 9112 has it."
    ),
    NOT_LOCAL := Kind(
        "not-local",
        403,
        "A vocabulary is served to its own machine alone",
        "Ask from the machine on which the service runs.",
    ),
    NOT_FOUND := Kind("not-found", 404, "There is nothing here", "See /v1/openapi.json."),
    METHOD := Kind(
        "method-not-allowed", 405, "Not by this method", "The header Allow says by which."
    ),
    NOT_ACCEPTABLE := Kind(
        "not-acceptable",
        406,
        "There is no such form of the answer",
        "Ask for one of those that are offered, by Accept or by the parameter format.",
    ),
    STALE := Kind(
        "stale-cursor",
        410,
        "The cursor belongs to another version",
        "Ask again from the first page: the library or its plugins have changed.",
    ),
    LENGTH_REQUIRED := Kind(
        "length-required",
        411,
        "The length of the body must be told",
        "Send Content-Length, and no chunked body.",
    ),
    PRECONDITION := Kind(
        "precondition-failed",
        412,
        "Nothing has changed",
        "A GET of the Content-Location answers 304 to the same condition.",
    ),
    TOO_LARGE := Kind("too-large", 413, "The body is too large", "Send at most 1 MiB."),
    MEDIA_TYPE := Kind(
        "unsupported-media-type",
        415,
        "The body has a media type that is not read here",
        "Send application/json.",
    ),
    RANGE := Kind(
        "range-not-satisfiable",
        416,
        "The file has no such part",
        "The header Content-Range says how long it is; ask for one part of it.",
    ),
    INVALID := Kind(
        "invalid-request",
        422,
        "The request is not valid",
        "Each fault says where it is and what was expected.",
    ),
    UNREADABLE := Kind(
        "unreadable-text",
        422,
        "A text of the request cannot be read",
        "Each fault gives the position, and the nearest text that can be read.",
    ),
    UNKNOWN := Kind(
        "unknown-name",
        422,
        "A name of the request is not known",
        "See the lists of instruments, strategies and plugins.",
    ),
    IMPOSSIBLE := Kind(
        "impossible-condition",
        422,
        "The conditions contradict each other",
        "Change the field that the fault points to.",
    ),
    REFUSED := Kind(
        "refused",
        422,
        "What was given can be read, and is not taken",
        "The fault says why not, and where.",
    ),
    NOTHING_FOUND := Kind(
        "nothing-found",
        422,
        "Nothing was found",
        "The fault points to the condition that emptied the answer, where one alone did.",
    ),
    TOO_MANY := Kind(
        "too-many", 422, "There are too many voicings to hold", "Narrow the search as it says."
    ),
    TOO_LONG := Kind(
        "too-long", 422, "The answer takes too long to work out", "Ask for less, as it says."
    ),
    HEADER := Kind(
        "header-too-large", 431, "The header of the request is too large", "Send a body instead."
    ),
    INTERNAL := Kind(
        "internal-error", 500, "The service failed", "The fault is not yours; please report it."
    ),
    STORE_FAILED := Kind(
        "store-failed",
        500,
        "The store of the vocabulary cannot be used",
        "Look at its file; what was acknowledged before is kept.",
    ),
    UNSUPPORTED := Kind(
        "not-implemented", 501, "This form of transfer is not supported", "Send Content-Length."
    ),
    BUSY := Kind(
        "busy",
        503,
        "As many sounds are being rendered as may be at one time",
        "Ask again after the seconds that the header Retry-After says.",
    ),
    STORE_BUSY := Kind(
        "store-unavailable",
        503,
        "The store of the vocabulary cannot be written now",
        "Send the same again: a review that carries its name never counts twice.",
    ),
)
"""Every kind, by status."""
