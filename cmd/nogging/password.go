package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"nogging/internal/server"
	"nogging/internal/store"
)

// setPassword reads a password twice from a terminal, or once from elsewhere.
func setPassword(ctx context.Context, c *console, db *store.Store) error {
	password, err := readPassword(c)
	if err != nil {
		return err
	}
	if len(password) < server.ShortestPassword {
		return fmt.Errorf("the password is too short\n  hint: take at least %d letters, such as four words", server.ShortestPassword)
	}
	if err := db.SetSetting(ctx, server.PasswordSetting, server.HashPassword(password)); err != nil {
		return err
	}
	fmt.Fprintln(c.err, "the password is set; whoever was logged in has to give it anew")
	return nil
}

func readPassword(c *console) (string, error) {
	f, ok := c.in.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		line, err := bufio.NewReader(c.in).ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return "", err
		}
		return strings.TrimRight(line, "\r\n"), nil
	}
	var said [2]string
	for i, ask := range []string{"New password: ", "Once more: "} {
		fmt.Fprint(c.err, ask)
		text, err := term.ReadPassword(int(f.Fd()))
		fmt.Fprintln(c.err)
		if err != nil {
			return "", err
		}
		said[i] = string(text)
	}
	if said[0] != said[1] {
		return "", errors.New("the two are not the same")
	}
	return said[0], nil
}
