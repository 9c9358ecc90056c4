package relief

import "errors"

// AsRefusal is the refusal that an error is or wraps; nil: it is none.
func AsRefusal(err error) *Refusal {
	var r *Refusal
	if errors.As(err, &r) {
		return r
	}
	return nil
}
