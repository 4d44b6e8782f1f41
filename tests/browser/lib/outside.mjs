// Stands where the internet would be: a proxy that lets nothing through and notes who was to be reached. It sees
// every request that leaves 127.0.0.1, from the page, its worker or its service worker alike.
import { createServer } from 'node:http';

export async function outside() {
  const reached = [];
  const proxy = createServer((request, response) => {
    reached.push(request.url);
    response.writeHead(403).end();
  });
  proxy.on('connect', (request, socket) => {
    reached.push(request.url);
    socket.end('HTTP/1.1 403 Forbidden\r\n\r\n');
  });
  await new Promise((listening) => proxy.listen(0, '127.0.0.1', listening));
  return {
    proxy: `http://127.0.0.1:${proxy.address().port}`,
    /** Hosts and addresses that something tried to reach. */
    reached,
    stop: () => new Promise((closed) => {
      proxy.close(closed);
      proxy.closeAllConnections();
    }),
  };
}
