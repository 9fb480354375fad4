//! The server: on this machine alone, with bounds on everything.

use crate::{
    disk::Disk,
    guard::Site,
    pilot::Pilot,
    routes::{House, answer},
    token::Token,
    version::version,
};
use hyper::{Request, body::Incoming, server::conn::http1, service::service_fn};
use hyper_util::{
    rt::{TokioIo, TokioTimer},
    server::graceful::GracefulShutdown,
};
use std::{
    convert::Infallible,
    io,
    net::{Ipv4Addr, SocketAddr},
    sync::Arc,
    time::Duration,
};
use tokio::{net::TcpListener, runtime, sync::Semaphore, time::timeout};

/// Connections at a time; more wait.
const CONNECTIONS: usize = 32;

/// How long a request may take to say what it asks for.
const HEADER: Duration = Duration::from_secs(5);

/// Most that is held of a request before it is read.
const BUFFER: usize = 64 * 1024;

/// How long an answer under way may take once the server ends.
const ENDING: Duration = Duration::from_millis(300);

/// How to serve.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// The port; 0: one that is free.
    pub port: u16,
    /// The seed of the draws.
    pub seed: u64,
    /// Threads that fly; `None`: one fewer than the machine has.
    pub threads: Option<usize>,
}

/// Where the page is.
#[derive(Clone, Debug)]
pub struct Address {
    /// The port on 127.0.0.1.
    pub port: u16,
    /// The whole address; the token stands behind `#`, which no browser sends.
    pub page: String,
}

/// Serves the page of a claim until it is asked to stop.
///
/// `ready` is told the address once it can be opened.
///
/// # Errors
///
/// If the port cannot be had, or the system gives no random numbers.
pub fn serve(
    disk: Box<dyn Disk>,
    options: &Options,
    ready: impl FnOnce(&Address) -> io::Result<()>,
) -> io::Result<()> {
    let runtime = runtime::Builder::new_current_thread().enable_all().build()?;
    let served = runtime.block_on(run(disk, options, ready));
    // What still waits for a file or a signal is not waited for.
    runtime.shutdown_background();
    served
}

async fn run(
    disk: Box<dyn Disk>,
    options: &Options,
    ready: impl FnOnce(&Address) -> io::Result<()>,
) -> io::Result<()> {
    let ended = ended()?;
    tokio::pin!(ended);
    let listener = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, options.port))).await?;
    let port = listener.local_addr()?.port();
    let token = Token::new()?;
    let page = format!("http://127.0.0.1:{port}/#{}", token.text());
    let first = disk.read().ok().and_then(|base| version(&base, &Vec::new(), &disk.folder()).ok());
    let first = first.map(|version| version.scenario);
    let pilot = Pilot::new(options.seed, options.threads, first)?;
    let house = Arc::new(House { site: Site { port, token }, disk, pilot });
    ready(&Address { port, page })?;
    let graceful = GracefulShutdown::new();
    let room = Arc::new(Semaphore::new(CONNECTIONS));
    loop {
        let next = async {
            let permit = Arc::clone(&room).acquire_owned().await;
            (permit, listener.accept().await)
        };
        let (permit, accepted) = tokio::select! {
            next = next => next,
            () = &mut ended => break,
        };
        let Ok((stream, _)) = accepted else {
            // No room for another socket: wait for one to end.
            tokio::time::sleep(Duration::from_millis(50)).await;
            continue;
        };
        // A line goes out when it is ready, not when more is.
        let _quick = stream.set_nodelay(true);
        let house = Arc::clone(&house);
        let service = service_fn(move |request: Request<Incoming>| {
            let house = Arc::clone(&house);
            async move { Ok::<_, Infallible>(answer(house, request).await) }
        });
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEADER)
            .max_buf_size(BUFFER)
            .serve_connection(TokioIo::new(stream), service);
        let watched = graceful.watch(connection);
        tokio::spawn(async move {
            // A connection that breaks is the browser's business.
            let _ended = watched.await;
            drop(permit);
        });
    }
    drop(listener);
    house.pilot.end();
    let _patience = timeout(ENDING, graceful.shutdown()).await;
    Ok(())
}

/// Comes with Ctrl-C, or with the system's wish that it end. Both are heard from this
/// call on, not only once it is waited for.
#[cfg(unix)]
fn ended() -> io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut asked = signal(SignalKind::interrupt())?;
    let mut term = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = asked.recv() => {}
            _ = term.recv() => {}
        }
    })
}

/// Comes with Ctrl-C, which is heard from this call on.
#[cfg(not(unix))]
fn ended() -> io::Result<impl Future<Output = ()>> {
    let mut asked = tokio::signal::windows::ctrl_c()?;
    Ok(async move {
        asked.recv().await;
    })
}
