// Package offload takes photos off a phone, a memory card or a folder, so that it is known afterwards whether all of them
// are safe.
//
// The functions you want are [Copy], which copies what is not there yet to one or more places and reads all of it back from
// their disks, and [Summarize], which counts what came over by phone and day. [ReadKept] and [Kept.Write] keep what was verified.
//
// The source is only read. What is there is known by content (SHA-256), never by name: the same photo is not copied twice, and
// another photo of the same name gets a name beside it. A file has its own name only when it is whole and has been read back.
package offload
