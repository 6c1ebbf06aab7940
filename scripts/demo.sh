#!/usr/bin/env bash
# What `make demo` shows once everything is set up.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

fastness=.venv/bin/fastness
games=demo/millrace.pgn
whole=.cache/millrace.txt
shown=15
student='Flourdust, Ivy'

heading() {
    printf '\n== %s\n\n' "$1"
}

heading 'The games of the Millrace Chess Club, student by student'
printf 'The club and its students are invented. This takes a minute or so.\n\n'
mkdir -p .cache
"./$fastness" sift "$games" >"$whole"
sed '/^Places to look in /,$d' "$whole"

heading "The first places to look in one of them, game $shown, for one student"
awk -v RS= -v ORS='\n\n' -v "title=Game $shown: " -v "student=$student" '
    /^Game [0-9]+: / { here = index($0, title) == 1; if (here) print; next }
    here && index($0, student " (") && count++ < 6 { print }
' "$whole"
printf 'All the places, in every game, are in %s.\n' "$whole"

heading "One position in full: game $shown, before Black's twelfth move"
start='rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1'
moves='1.e4 e6 2.d4 d5 3.Nc3 Nf6 4.Bd3 dxe4 5.Bxe4 Bd6 6.Nf3 O-O 7.O-O Nbd7 8.Be3 e5'
moves+=' 9.dxe5 Nxe4 10.Nxe4 Bxe5 11.Nxe5 Nxe5 12.f4'
"./$fastness" survey "$start" --moves "$moves"

heading "Two terms of a group, kept in a store, and what one student's games show"
terms=demo/millrace-terms.pgn
export FASTNESS_STORE=.cache/millrace-store.sqlite
rm -f "$FASTNESS_STORE"*
"./$fastness" import "$terms" --group 'Evening group' --add --no-offers
printf '\n'
"./$fastness" record 'Bruno Hopperton'

heading 'Reports to print'
for reader in student parents teacher; do
    "./$fastness" report 'Bruno Hopperton' --for "$reader" --to ".cache/bruno-$reader.pdf"
done
"./$fastness" report --group 'Evening group' --to .cache/evening-group.pdf

heading 'The lesson of the week: six positions, two with a twin, and the sheets'
rm -rf .cache/week
"./$fastness" week "$terms" --group 'Evening group' --yes --no-offers --to .cache/week

heading 'A lesson whose claims are proved, and all that is made of it'
rm -rf .cache/lesson
"./$fastness" lesson build demo/lesson.md --to .cache/lesson
printf 'The class board, handouts, pictures, captions, cue sheet and homework are in .cache/lesson.\n'

heading 'Homework for the group, and what one student practises this week'
rm -rf .cache/homework .cache/practice
"./$fastness" homework make --group 'Evening group' --due 2099-12-03 --count 4 --title 'Look twice' \
    --to .cache/homework
"./$fastness" practice 'Bruno Hopperton' --minutes 15 --to .cache/practice

heading 'Your own games'
cat <<END
Go through a PGN file of your own, for one student or for everybody:

  ./$fastness sift YOUR-GAMES.pgn --player "A NAME"
  ./$fastness sift YOUR-GAMES.pgn

Keep your students' games, and print a report:

  ./$fastness import YOUR-GAMES.pgn --group "A GROUP" --add
  ./$fastness record "A NAME"
  ./$fastness report "A NAME" --to report.pdf

Make the sheets of the week from an evening's games:

  ./$fastness week YOUR-GAMES.pgn --group "A GROUP" --add

Write a lesson of your own, check it, and build it:

  ./$fastness lesson new LESSON.md
  ./$fastness lesson build LESSON.md --to FOLDER

How to read the pages: docs/survey.md, docs/sift.md and docs/record.md.
END
