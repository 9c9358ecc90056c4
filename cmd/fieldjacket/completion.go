package main

import (
	"fmt"
	"strings"

	"github.com/alecthomas/kong"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (completionCommand) Help() string {
	return "Example: fieldjacket completion bash > ~/.local/share/bash-completion/completions/fieldjacket"
}

// Run prints a script that has the shell complete commands and flags; what
// else is typed is completed as a file's name.
func (c completionCommand) Run(k *kong.Kong, t terminal) error {
	choices := choicesOf(k.Model.Node, "")
	switch c.Shell {
	case "bash":
		fmt.Fprintf(t.out, "_fieldjacket() {\n%s\tCOMPREPLY=($(compgen -W \"$words\" -- \"$now\") $(compgen -f -- \"$now\"))\n}\ncomplete -o filenames -F _fieldjacket fieldjacket\n",
			walk("COMP_WORDS[@]:1:COMP_CWORD-1", "${COMP_WORDS[COMP_CWORD]}", choices))
	case "zsh":
		fmt.Fprintf(t.out, "#compdef fieldjacket\n_fieldjacket() {\n%s\tcompadd -- ${=words_}\n\t_files\n}\ncompdef _fieldjacket fieldjacket\n",
			strings.ReplaceAll(walk("words[@]:1:CURRENT-2", "", choices), "words=", "words_="))
	case "fish":
		for _, at := range choices {
			for _, w := range at.words {
				fmt.Fprintf(t.out, "complete -c fieldjacket -n '%s' %s -d '%s'\n", at.fishCondition(), w.fish(), strings.ReplaceAll(w.help, "'", `\'`))
			}
		}
	}
	return nil
}

// choices are the words that may follow a command.
type choices struct {
	command string // "" the program itself, then " print", " print card"
	words   []choice
}

type choice struct{ word, help string }

// choicesOf goes through the commands below a node, the node itself first.
func choicesOf(n *kong.Node, command string) []choices {
	at := choices{command: command}
	var below []choices
	for _, child := range n.Children {
		if child.Hidden {
			continue
		}
		at.words = append(at.words, choice{child.Name, child.Help})
		below = append(below, choicesOf(child, command+" "+child.Name)...)
	}
	for _, f := range n.Flags {
		if !f.Hidden {
			at.words = append(at.words, choice{"--" + f.Name, f.Help})
		}
	}
	return append([]choices{at}, below...)
}

// walk is the part that bash and zsh share: which command stands on the line
// so far, and the words that may follow it.
func walk(before, now string, all []choices) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\tlocal at= word words= now=%q\n\tfor word in \"${%s}\"; do\n\t\tcase \"$at $word\" in\n", now, before)
	for _, at := range all[1:] {
		fmt.Fprintf(&b, "\t\t%q) at=\"$at $word\" ;;\n", at.command)
	}
	b.WriteString("\t\tesac\n\tdone\n\tcase \"$at\" in\n")
	for _, at := range all {
		words := make([]string, 0, len(at.words))
		for _, w := range at.words {
			words = append(words, w.word)
		}
		fmt.Fprintf(&b, "\t%q) words=%q ;;\n", at.command, strings.Join(words, " "))
	}
	b.WriteString("\tesac\n")
	return b.String()
}

// fishCondition says when a command is the one on the line: its words were
// seen.
func (c choices) fishCondition() string {
	if c.command == "" {
		return "__fish_use_subcommand"
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(c.command, " ", " ; and __fish_seen_subcommand_from "))[2:], " ")
}

func (c choice) fish() string {
	if flag, ok := strings.CutPrefix(c.word, "--"); ok {
		return "-l " + flag
	}
	return "-a " + c.word
}
