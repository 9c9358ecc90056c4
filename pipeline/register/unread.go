package register

import (
	"errors"
	"fmt"
	"strings"
)

// ErrUnread says that a file of the season is there and cannot be read. It never counts as an empty one: what is made of an empty
// register takes finished paper away.
var ErrUnread = errors.New("nothing was done, since what cannot be read must not count as empty")

// Unread is an error that wraps [ErrUnread] and names each file of the season that is there and of which nothing, or not the
// whole, can be read; nil where there is none.
func (r *Register) Unread() error {
	var lost []string
	for _, p := range r.Problems {
		if p.Lost == LostFile {
			lost = append(lost, strings.TrimSuffix(p.Error(), "; "+LostFile+" is not used"))
		}
	}
	if lost == nil {
		return nil
	}
	return fmt.Errorf("%s\n%w: mend the file, or put an earlier copy in its place", strings.Join(lost, "\n"), ErrUnread)
}
