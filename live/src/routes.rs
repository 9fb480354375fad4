//! What is answered to what.
#![expect(clippy::result_large_err, reason = "both sides are answers, once a request")]

use crate::{
    asked::{Edit, File, Printed, Save},
    assets::asset,
    body::{Sent, WAITING},
    disk::{Disk, digest},
    form::form,
    guard::{Site, refused, sealed},
    lines::{Line, Out},
    pilot::{Job, Pilot},
    shell::shell,
    version::{self, Problem, version},
};
use http_body_util::{BodyExt as _, LengthLimitError, Limited};
use hyper::{
    Request, Response, StatusCode,
    body::Incoming,
    header::{CONTENT_TYPE, HeaderValue},
};
use longodds_sim::{quantity::Show, scenario::LONGEST};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::{
    sync::{Arc, atomic::AtomicU64},
    time::Duration,
};
use tokio::{sync::mpsc, time::timeout};

/// How long the body of a request may take to come.
const PATIENCE: Duration = Duration::from_secs(10);

/// How long what is not read may take to come before the answer goes.
const DRAINED: Duration = Duration::from_secs(1);

/// A server's own things.
pub(crate) struct House {
    /// Who it is.
    pub(crate) site: Site,
    /// Its file.
    pub(crate) disk: Box<dyn Disk>,
    /// Who flies.
    pub(crate) pilot: Pilot,
}

type Answer = Response<Sent>;

/// Answers a request.
pub(crate) async fn answer(house: Arc<House>, request: Request<Incoming>) -> Answer {
    let refusal = refused(&house.site, &request);
    let path = request.uri().path().to_owned();
    let mut body = request.into_body();
    let mut answer = match refusal {
        Some((status, why)) => text(status, why),
        None => match called(&house, &path, &mut body).await {
            Ok(answer) | Err(answer) => answer,
        },
    };
    // A connection that is closed on what was not read loses the answer, too.
    let rest = Limited::new(body, LONGEST).collect();
    let _drained = timeout(DRAINED, rest).await;
    sealed(answer.headers_mut());
    answer
}

async fn called(house: &House, path: &str, request: &mut Incoming) -> Result<Answer, Answer> {
    match path {
        "/" => Ok(of_kind("text/html; charset=utf-8", shell().into_string())),
        "/api/open" => opened(house),
        "/api/edit" => edited(house, read(request).await?),
        "/api/file" => looked(house, &read(request).await?),
        "/api/save" => saved(house, &read(request).await?),
        "/api/page" => printed(house, read(request).await?).await,
        _ => {
            let found = path.strip_prefix("/assets/").and_then(asset);
            let found =
                found.ok_or_else(|| text(StatusCode::NOT_FOUND, "there is no such page"))?;
            Ok(of_kind(found.kind, found.bytes))
        }
    }
}

/// Reads the record of a request.
async fn read<T: DeserializeOwned>(request: &mut Incoming) -> Result<T, Answer> {
    let body = Limited::new(request, LONGEST).collect();
    let Ok(body) = timeout(PATIENCE, body).await else {
        return Err(text(StatusCode::REQUEST_TIMEOUT, "the request did not come whole"));
    };
    let body = body.map_err(|error| match error.is::<LengthLimitError>() {
        true => text(StatusCode::PAYLOAD_TOO_LARGE, "the request is longer than 1 MiB"),
        false => text(StatusCode::BAD_REQUEST, "the request did not come whole"),
    })?;
    serde_json::from_slice(&body.to_bytes())
        .map_err(|error| text(StatusCode::BAD_REQUEST, &format!("not understood: {error}")))
}

fn disk_text(house: &House) -> Result<String, Answer> {
    house.disk.read().map_err(|why| text(StatusCode::INTERNAL_SERVER_ERROR, &why))
}

/// The file as it is now.
fn opened(house: &House) -> Result<Answer, Answer> {
    let base = disk_text(house)?;
    let (form, problems) = formed(house, &base);
    let claim = form.as_ref().map_or("", |(_, claim, _)| claim);
    let units = form.as_ref().map_or("si", |(_, _, show)| show);
    Ok(record(&json!({
        "digest": digest(&base),
        "file": house.disk.name(),
        "claim": claim,
        "form": form.as_ref().map_or("", |(html, _, _)| html),
        "units": units,
        "problems": problems,
    })))
}

type Formed = Option<(String, String, &'static str)>;

/// The form of a text with its claim and units, or what is wrong with it.
fn formed(house: &House, base: &str) -> (Formed, Vec<Problem>) {
    match version(base, &Vec::new(), &house.disk.folder()) {
        Err(problems) => (None, problems),
        Ok(version) => {
            let units = match version.scenario.show {
                Show::Si => "si",
                Show::Imperial => "imperial",
            };
            let html = form(&version.scenario).into_string();
            (Some((html, version.scenario.claim.clone(), units)), Vec::new())
        }
    }
}

/// Flies a version, line by line.
fn edited(house: &House, edit: Edit) -> Result<Answer, Answer> {
    let base = disk_text(house)?;
    let (to, lines) = mpsc::channel(WAITING);
    let out = Out::new(to, edit.seq);
    let now = digest(&base);
    if now == edit.digest {
        house.pilot.fly(Job {
            base,
            edit,
            folder: house.disk.folder(),
            name: house.disk.name(),
            out,
            shown: AtomicU64::new(0),
        });
    } else {
        let _told = out.send(&Line::Stale { digest: now });
    }
    let mut answer = Response::new(Sent::Lines(lines));
    let kind = HeaderValue::from_static("application/x-ndjson; charset=utf-8");
    answer.headers_mut().insert(CONTENT_TYPE, kind);
    Ok(answer)
}

/// Whether the file is another than the page knows.
fn looked(house: &House, file: &File) -> Result<Answer, Answer> {
    let now = digest(&disk_text(house)?);
    Ok(record(&json!({ "changed": now != file.digest, "digest": now })))
}

/// Writes the values into the file, if it is still what the page knows.
fn saved(house: &House, save: &Save) -> Result<Answer, Answer> {
    let base = disk_text(house)?;
    let put = version::text(&base, &save.sets, &house.disk.folder()).map(|put| put.text);
    if digest(&base) != save.digest {
        let both = json!({ "digest": digest(&base), "theirs": base, "ours": put.ok() });
        return Err(with(StatusCode::CONFLICT, &both));
    }
    let wrong = |problems: Vec<Problem>| {
        with(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "problems": problems }))
    };
    version(&base, &save.sets, &house.disk.folder()).map_err(wrong)?;
    let now = put.map_err(wrong)?;
    let failed = |why: String| text(StatusCode::INTERNAL_SERVER_ERROR, &why);
    house.disk.write(&now).map_err(failed)?;
    let (form, _) = formed(house, &now);
    let form = form.map_or_else(String::new, |(html, _, _)| html);
    Ok(record(&json!({ "digest": digest(&now), "form": form })))
}

/// The page to print.
async fn printed(house: &House, asked: Printed) -> Result<Answer, Answer> {
    let base = disk_text(house)?;
    if digest(&base) != asked.digest {
        return Err(with(StatusCode::CONFLICT, &json!({ "digest": digest(&base) })));
    }
    let page = house.pilot.print(base, asked, house.disk.folder(), house.disk.name()).await;
    match page {
        Some(Ok(html)) => Ok(of_kind("text/html; charset=utf-8", html)),
        Some(Err(problems)) => {
            Err(with(StatusCode::UNPROCESSABLE_ENTITY, &json!({ "problems": problems })))
        }
        None => Err(text(StatusCode::SERVICE_UNAVAILABLE, "the flights were stopped")),
    }
}

fn text(status: StatusCode, words: &str) -> Answer {
    let mut answer = of_kind("text/plain; charset=utf-8", format!("{words}\n"));
    *answer.status_mut() = status;
    answer
}

fn record(value: &Value) -> Answer {
    of_kind("application/json", value.to_string())
}

fn with(status: StatusCode, value: &Value) -> Answer {
    let mut answer = record(value);
    *answer.status_mut() = status;
    answer
}

fn of_kind(kind: &'static str, bytes: impl Into<hyper::body::Bytes>) -> Answer {
    let mut answer = Response::new(Sent::whole(bytes));
    answer.headers_mut().insert(CONTENT_TYPE, HeaderValue::from_static(kind));
    answer
}
