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
// Every address begins with the secret ([Server.URL]), and no cookie is kept,
// which a browser would send to other ports of this machine. Another Host,
// another Origin or no secret gets 403 and nothing else (guard.go). Photos are
// named by a key that the page got with the state, never by a path.
//
// Handlers are entered in [Server.routes]; one takes a request and gives what
// is sent as JSON, or an error ([fault]: one of the asker's, with its code).
// [Server.known] gives the record of a photo's key and a season to work with,
// [Server.seeing] the one vision child that serves the page: hold looking while
// you ask it.
//
// # The page
//
// page/ holds plain HTML, CSS and JavaScript modules, served as they are. A
// module talks to the server through api.js only: get(path), post(path, body),
// pictureOf(photo, size) with small, preview, plate or original; both throw an
// Error with a sentence for the person. main.js holds the state and has the
// shown pane drawn anew at each change; it hands every pane a page with state,
// photo(key), tell(text, wrong), show(pane, what), renew(), takeBack(lines) and
// say(words, text), which keeps words of {photo: key} or {about: "jacket 14"}
// with what and value. sort.js has the strip of strip.js, queue.js what needs a
// person, check.js what jackets lack, words.js the log. queue.js lays
// openSettle(pane, photo, page) of settle.js between photo and words.
package review
