"""Files beside the API: those of the folder, and no others."""

import os
from pathlib import Path

import pytest

from gripwright_server.http import create_app
from gripwright_server.http.static import safe_file
from tests.server.http.client import Client, client_of
from tests.server.http.conftest import registry


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of an app, with what must not be served in it and beside it."""
    app = tmp_path / "app"
    (app / "deep").mkdir(parents=True)
    (app / ".git").mkdir()
    (app / "v1").mkdir()
    (app / "index.html").write_text("<h1>app</h1>")
    (app / "deep" / "code.js").write_text("let x;")
    (app / "deep" / "index.html").write_text("<h1>deep</h1>")
    (app / ".env").write_text("secret")
    (app / ".git" / "config").write_text("secret")
    (app / "v1" / "spell").write_text("shadow")
    (tmp_path / "secret.txt").write_text("secret")
    (tmp_path / "app-other").mkdir()
    (tmp_path / "app-other" / "secret.txt").write_text("secret")
    (app / "out.txt").symlink_to(tmp_path / "secret.txt")
    (app / "out").symlink_to(tmp_path)
    (app / "etc").symlink_to("/etc")
    (app / "loop").symlink_to(app / "loop")
    (app / "inside.js").symlink_to(app / "deep" / "code.js")
    os.mkfifo(app / "pipe")
    return app


@pytest.fixture
def static(folder: Path) -> Client:
    """A client of a service beside that folder."""
    return client_of(create_app(static=folder, registry=registry))


def test_files_are_served(static: Client) -> None:
    """With their media type, an index for a folder, and no guessing."""
    assert static.get("/", buffered=True).data == b"<h1>app</h1>"
    response = static.get("/deep/code.js", buffered=True)
    assert response.status_code == 200
    assert response.mimetype in {"text/javascript", "application/javascript"}
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Cache-Control"] == "no-cache"
    assert static.get("/deep/", buffered=True).data == b"<h1>deep</h1>"


def test_file_that_the_client_has_is_not_sent_again(static: Client) -> None:
    """Files have entity tags too."""
    tag = static.get("/deep/code.js", buffered=True).headers["ETag"]
    assert (
        static.get("/deep/code.js", headers={"If-None-Match": tag}, buffered=True).status_code
        == 304
    )


def test_folder_is_left_with_its_slash(static: Client) -> None:
    """So that what its index refers to is found."""
    response = static.get("/deep")
    assert (response.status_code, response.headers["Location"]) == (302, "/deep/")


def test_link_within_the_folder_is_followed(static: Client) -> None:
    """It leads nowhere else."""
    assert static.get("/inside.js", buffered=True).data == b"let x;"


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/deep/../../secret.txt",
        "/%2e%2e/secret.txt",
        "/..%2fsecret.txt",
        "/deep/..%2f..%2fsecret.txt",
        "/%252e%252e/secret.txt",
        "/..%5csecret.txt",
        "/../app-other/secret.txt",
        "//etc/passwd",
        "/%2fetc/passwd",
        "/etc/passwd",
        "/out.txt",
        "/out/secret.txt",
        "/loop",
        "/pipe",
        "/.env",
        "/.git/config",
        "/deep/%00",
        "/index.html%00.js",
        "/index.html/",
        "/nothing",
        "/" + "a" * 5000,
        "/v1/nothing",
    ],
)
def test_nothing_else_is_served(static: Client, path: str) -> None:
    """Not above the folder, not by a link out of it, nothing hidden, no pipe."""
    response = static.get(f"http://localhost{path}")
    assert response.status_code in {308, 404}
    assert b"secret" not in response.data
    assert b"root:" not in response.data


def test_files_do_not_hide_the_api(static: Client) -> None:
    """Whatever the folder holds."""
    assert static.get("/v1/spell?symbol=C").json["count"] == 1
    assert static.get("/healthz").json == {"status": "ok"}


@pytest.mark.parametrize("path", ["/v1", "/v1/", "/v1/nothing", "/v1/voicings/more"])
@pytest.mark.parametrize("method", ["GET", "POST", "DELETE"])
def test_what_the_api_has_not_is_not_found(static: Client, path: str, method: str) -> None:
    """By no method, although files are served beside it."""
    assert static.open(path, method=method).status_code == 404


def test_methods_are_those_of_what_is_there(static: Client) -> None:
    """The header Allow tells them (RFC 9110, section 15.5.6)."""
    for path, allowed in (("/v1/voicings", {"GET", "HEAD", "OPTIONS", "POST"}), ("/v10", None)):
        response = static.open(path, method="DELETE")
        assert response.status_code == 405
        assert set(response.allow) == (allowed or {"GET", "HEAD", "OPTIONS"})


def test_folder_that_is_gone_serves_nothing(tmp_path: Path) -> None:
    """The server stays up."""
    assert safe_file(tmp_path / "gone", "index.html") is None


@pytest.mark.parametrize("name", ["", "index.html", "deep", "deep/code.js"])
def test_what_is_served_lies_in_the_folder(folder: Path, name: str) -> None:
    """Once every link is followed."""
    path = safe_file(folder, name)
    assert path is not None
    assert path.is_relative_to(folder.resolve())


def test_part_that_is_not_there(tmp_path: Path) -> None:
    """RFC 9110, section 15.5.17: 416, with the length of the file."""
    (tmp_path / "a.txt").write_text("four")
    client = client_of(create_app(static=tmp_path, registry=registry))
    response = client.get("/a.txt", headers={"Range": "bytes=9-"})
    assert response.status_code == 416
    assert response.json["type"] == "/v1/docs#problem-range-not-satisfiable"
    assert response.headers["Content-Range"] == "bytes */4"
    with client.get("/a.txt", headers={"Range": "bytes=1-2"}) as part:
        assert part.data == b"ou"
