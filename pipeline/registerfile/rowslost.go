package registerfile

import (
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// RowsLost reports whether a row of finds, jackets or localities could not be read, so that one which is missing need not be one
// that a person took out.
func RowsLost(r *register.Register) bool {
	return slices.ContainsFunc(r.Problems, func(p register.Problem) bool {
		return p.Lost == register.LostRow && slices.ContainsFunc([]table.Form{table.FindsForm, table.JacketsForm, table.LocalitiesForm}, func(f table.Form) bool {
			return p.File == f.File || strings.HasPrefix(p.File, table.BookFile) && strings.HasSuffix(strings.ToLower(register.Tidy(p.File)), ", sheet "+f.Name())
		})
	})
}
