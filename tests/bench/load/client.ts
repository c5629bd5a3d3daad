import { Agent, request } from 'node:http';

/** An answer as the load sees it. */
export interface Reply {
  readonly status: number;
  /** Bytes as they came over the wire. */
  readonly bytes: number;
  /** Text, where it was asked for. */
  readonly text: string;
  readonly location: string;
}

export interface Client {
  get(path: string, headers?: Readonly<Record<string, string>>, wantText?: boolean): Promise<Reply>;
  post(path: string, form: string): Promise<Reply>;
  close(): void;
}

/** A request that has not ended by then counts as an error. */
const GIVE_UP_MS = 30_000;

/** A client of one server on this machine, with connections kept open as browsers do. */
export function openClient(address: string): Client {
  const agent = new Agent({ keepAlive: true, maxSockets: 400 });
  const { hostname, port } = new URL(address);
  if (!['127.0.0.1', '[::1]', 'localhost'].includes(hostname))
    throw new Error(`${hostname} is not this machine`);
  const send = (
    method: 'GET' | 'POST',
    path: string,
    headers: Readonly<Record<string, string>>,
    body: string | undefined,
    wantText: boolean,
    again = true,
  ): Promise<Reply> =>
    new Promise((resolve, reject) => {
      const asked = request(
        { agent, hostname, port, method, path, headers, timeout: GIVE_UP_MS },
        (response) => {
          let bytes = 0;
          const parts: Buffer[] = [];
          response.on('data', (chunk: Buffer) => {
            bytes += chunk.length;
            if (wantText) parts.push(chunk);
          });
          response.on('end', () =>
            resolve({
              status: response.statusCode ?? 0,
              bytes,
              text: Buffer.concat(parts).toString('utf8'),
              location: response.headers.location ?? '',
            }),
          );
          response.on('error', reject);
        },
      );
      asked.on('timeout', () => asked.destroy(new Error('no answer in 30 s')));
      asked.on('error', (error: NodeJS.ErrnoException) => {
        // The server closed the idle connection while the request was on its way: a browser asks again, too.
        if (again && asked.reusedSocket && error.code === 'ECONNRESET')
          resolve(send(method, path, headers, body, wantText, false));
        else reject(error);
      });
      asked.end(body);
    });
  return {
    get: (path, headers = {}, wantText = false) =>
      send(
        'GET',
        path,
        { ...(wantText ? {} : { 'accept-encoding': 'gzip' }), ...headers },
        undefined,
        wantText,
      ),
    post: (path, form) =>
      send(
        'POST',
        path,
        {
          'content-type': 'application/x-www-form-urlencoded',
          'content-length': String(Buffer.byteLength(form)),
          origin: address,
        },
        form,
        false,
      ),
    close: () => agent.destroy(),
  };
}
