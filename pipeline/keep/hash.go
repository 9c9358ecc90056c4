package keep

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// Hash is the hash of values as JSON, 32 hex digits: the key of what was made
// of them. Maps are written in order of their keys, so that equal values have
// equal hashes. The values are finite numbers, texts and structs of them.
func Hash(values ...any) string {
	text, err := json.Marshal(values)
	if err != nil {
		panic(err) // of values that no caller has
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}
