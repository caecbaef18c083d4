// A small server of static files for trying the page: node web/serve.mjs FOLDER [PORT] [--under PATH]
//
// Prints the address when it listens. Port 0 takes a free one. Serves this machine only.
import {createReadStream} from 'node:fs';
import {stat} from 'node:fs/promises';
import {createServer} from 'node:http';
import {extname, join, normalize, resolve, sep} from 'node:path';
import {fileURLToPath} from 'node:url';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
};

// The file that a request names, or nothing when it lies outside the folder.
function fileFor(folder, under, url) {
  let path;
  try {
    path = decodeURIComponent(new URL(url, 'http://localhost').pathname);
  } catch {
    return null;
  }
  if (!path.startsWith(under)) return null;
  path = normalize(join(folder, path.slice(under.length)));
  if (path !== folder && !path.startsWith(folder + sep)) return null;
  return path.endsWith(sep) || path === folder ? join(path, 'index.html') : path;
}

// serve(FOLDER, {port, under}): resolves to {address, close()} once it listens.
export function serve(folder, {port = 0, under = '/'} = {}) {
  const root = resolve(folder);
  const server = createServer(async (request, response) => {
    const file = fileFor(root, under, request.url);
    const found = file && await stat(file).catch(() => null);
    if (!found || !found.isFile() || !['GET', 'HEAD'].includes(request.method)) {
      response.writeHead(404, {'Content-Type': 'text/plain'}).end('Nothing here.\n');
      return;
    }
    response.writeHead(200, {
      'Content-Type': types[extname(file)] ?? 'application/octet-stream',
      'Content-Length': found.size,
      'Cache-Control': 'no-cache',
    });
    if (request.method === 'HEAD') response.end();
    else createReadStream(file).on('error', () => response.destroy()).pipe(response);
  });
  return new Promise((done, failed) => {
    server.on('error', failed);
    server.listen(port, '127.0.0.1', () => done({
      address: `http://localhost:${server.address().port}${under}`,
      close: () => new Promise(closed => {
        server.close(closed);
        server.closeAllConnections();
      }),
    }));
  });
}

async function main([folder, port = '8420']) {
  const wanted = Number(port);
  const server = await serve(folder, {port: wanted}).catch(error => {
    if (error.code !== 'EADDRINUSE') throw error;
    return serve(folder, {port: 0});
  });
  console.log(`The page is at ${server.address} (Ctrl+C ends)`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await main(process.argv.slice(2));
