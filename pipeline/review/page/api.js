// All talk with the server. An error is thrown as an Error with the server's
// own sentence, for the person.

async function answered(response) {
  if (response.ok) return response.json();
  let text;
  try {
    text = (await response.json()).error;
  } catch {
    text = response.status === 403
      ? "this page's address has expired: open the one that fieldjacket review printed"
      : `the program answered ${response.status}`;
  }
  throw new Error(text);
}

async function asked(path, options) {
  try {
    return await fetch(path, options);
  } catch {
    throw new Error("fieldjacket review is no longer running: start it again; what was confirmed is kept");
  }
}

export async function get(path) {
  return answered(await asked(path));
}

export async function post(path, body) {
  return answered(await asked(path, {
    method: "POST",
    headers: {"Content-Type": "application/json"},
    body: JSON.stringify(body),
  }));
}

// fetchState gives the state, or null where it is still the one with that tag.
export async function fetchState(tag) {
  const response = await asked("state", {headers: tag ? {"If-None-Match": tag} : {}, cache: "no-store"});
  if (response.status === 304) return null;
  const tagNow = response.headers.get("ETag");
  return {state: await answered(response), tag: tagNow};
}

export const pictureOf = (photo, size) => `picture/${photo.key}/${size}`;
