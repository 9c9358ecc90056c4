package main

import (
	"errors"
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// others are what each operator is changed to: its neighbour at the limit and its opposite.
var others = map[token.Token][]string{
	token.LSS: {"<=", ">="}, token.LEQ: {"<", ">"}, token.GTR: {">=", "<="}, token.GEQ: {">", "<"},
	token.EQL: {"!="}, token.NEQ: {"=="}, token.LAND: {"||"}, token.LOR: {"&&"},
	token.ADD: {"-"}, token.SUB: {"+"}, token.MUL: {"/"}, token.QUO: {"*"}, token.NOT: {""},
	token.ADD_ASSIGN: {"-="}, token.SUB_ASSIGN: {"+="}, token.MUL_ASSIGN: {"/="}, token.QUO_ASSIGN: {"*="},
	token.INC: {"--"}, token.DEC: {"++"},
}

// A site is an operator that can be changed.
type site struct {
	file, source string
	line, at     int // of the operator; at in bytes
	op           string
	to           []string
}

// sitesOf lists the operators of a package's own files, those that are compiled here without C, in the order of files and lines.
func sitesOf(dir string) (out []site, err error) {
	here := build.Default
	here.CgoEnabled = false
	p, err := here.ImportDir(dir, 0)
	if err != nil {
		return nil, err
	}
	for _, name := range p.GoFiles {
		file := filepath.Join(dir, name)
		source, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, file, source, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			var op token.Token
			var pos token.Pos
			switch n := n.(type) {
			case *ast.BinaryExpr:
				op, pos = n.Op, n.OpPos
			case *ast.UnaryExpr:
				op, pos = n.Op, n.OpPos
			case *ast.AssignStmt:
				op, pos = n.Tok, n.TokPos
			case *ast.IncDecStmt:
				op, pos = n.Tok, n.TokPos
			}
			if to := others[op]; to != nil {
				at := set.Position(pos)
				out = append(out, site{file, string(source), at.Line, at.Offset, op.String(), to})
			}
			return true
		})
	}
	return out, nil
}

// mutated is the changed line with its file, as equivalent.txt has it.
func (s site) mutated(to string) string {
	begin := strings.LastIndexByte(s.source[:s.at], '\n') + 1
	end := s.at + strings.IndexByte(s.source[s.at:], '\n')
	return s.file + ": " + strings.TrimSpace(s.source[begin:s.at]+to+s.source[s.at+len(s.op):end])
}

// readEquivalent reads the changes that no test can notice: file and changed line, and below each, set in, why.
func readEquivalent(path string) (map[string]bool, error) {
	content, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	known := map[string]bool{}
	for line := range strings.Lines(string(content)) {
		if line = strings.TrimRight(line, "\n"); line != "" && !strings.HasPrefix(line, " ") && !strings.HasPrefix(line, "#") {
			known[line] = true
		}
	}
	return known, nil
}
