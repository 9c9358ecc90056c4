// Package review serves the page on which a person sorts a season's photos and
// settles what was refused.
//
// You want [New], which makes a [Server] for a season's folder, and
// [Server.Serve], which listens on this machine only and tells the address to
// open.
//
// The page shows what [pipeline.Season.Check] tells and writes what a person
// says through [pipeline.Season.Say]; no rule of the work stands here. Nothing
// of the season but words.log and paper/ is written.
//
// # A request
//
// Every request but the first carries the secret in a cookie; the first has it
// in its address ([Server.URL]) and is answered with that cookie. Another Host,
// another Origin or no secret gets 403 and nothing else (guard.go). Photos are
// named by a key that the page got with the state, never by a path.
//
// Handlers are entered in [Server.routes]; one takes a request and gives what
// is sent as JSON, or an error ([fault]: one of the asker's, with its code).
//
// # The page
//
// page/ holds plain HTML, CSS and JavaScript modules, served as they are. A
// module talks to the server through api.js only: get(path), post(path, body),
// say(words) and undo(lines), which speak of an error to the person and fetch
// the state anew. main.js holds the state and tells the panes of each change.
package review
