#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The result folder appears all at once or not at all; what is not ours is never touched. All compared exactly, byte for byte.
. "$SOURCE_DIR/tests/cli/common.sh"
settle() { "$tool" settle -q -n "$scenario" "$@"; }
refuses() { # WHAT PATH MESSAGE: status 3, nothing written
    check "refuses $1" status 3 "$tool" settle -n "$scenario" -o "$2"
    check "says why: $1" says err "$3"
    check "prints no verdict: $1" empty out
    check "leaves nothing behind: $1" no_leftovers
}

check 'a new folder' status 0 settle -o new
check 'with its files' [ "$(echo $(ls new))" = "$(echo $(printf '%s\n' curve.csv events.csv limits.csv result.json \
    $(test -e new/side.csv && echo side.csv) | sort))" ]
check 'nothing is left behind' no_leftovers
check 'a second time' status 0 settle -o new/
check 'nothing is left behind' no_leftovers
cp -r new first
check 'the same input gives the same bytes' status 0 settle -o again
check 'the same bytes' same first again
mkdir empty
check 'an empty folder' status 0 settle -o empty
check 'the same bytes' same first empty
ln -s again link
check 'a link to a folder' status 0 settle -o link
check 'the link stays' [ -L link ]
check 'the same bytes' same first again
umask 027
check 'permissions follow the umask' status 0 settle -o private
check 'mode of the folder' [ "$(stat -c %a private)" = 750 ]
check 'mode of a file' [ "$(stat -c %a private/result.json)" = 640 ]
umask 022

mkdir foreign
echo precious >foreign/letter.txt
refuses 'a folder of somebody else' foreign "letter.txt"
check 'it is untouched' [ "$(cat foreign/letter.txt)" = precious ]
cp -r first mixed
echo precious >mixed/notes.txt
cp -r mixed mixed-before
refuses 'a folder with a file of the user' mixed "notes.txt"
check 'it is untouched' same mixed mixed-before
mkdir looks-like
echo '{"drawdock": "no"}' >looks-like/result.json
refuses 'a result.json of another program' looks-like 'no result of drawdock'
echo x >file
refuses 'a file' file 'expected a folder'
refuses 'a folder below a file' file/results 'Not a directory'
refuses 'a folder in a missing folder' missing/results 'cannot be reached'
ln -s nowhere dangling
refuses 'a link to nothing' dangling 'symbolic link to nothing'
refuses 'the root folder' / 'root folder'
refuses 'a name that is too long' "$(printf 'x%.0s' $(seq 5000))" 'too long'
refuses 'the folder one is in' . 'the folder you are in'

# A full disk: a file may not grow beyond 1 block; then a small file system of its own, where that can be mounted.
cp -r first old
full() { (trap '' XFSZ; ulimit -f 1; exec "$tool" settle -n "$scenario" -o "$1" --with 'water.level=1.0 m'); }
check 'no room, new folder' status 3 full fresh
check 'no room is told' says err 'File too large'
check 'no folder' absent fresh
check 'no room, old results' status 3 full old
check 'old results are untouched' same first old
check 'nothing is left behind' no_leftovers
mkdir small
cat >mounted.sh <<'S'
mount -t tmpfs -o size=72k none small || exit 99
cp first/result.json small/filler && mkdir small/old && cp first/result.json small/old/ || exit 98
"$DRAWDOCK" settle -n "$1" -o small/new >out 2>err
echo $? >rc
"$DRAWDOCK" settle -n "$1" -o small/old >>out 2>>err
echo $? >>rc
ls -A small >left
cmp small/old/result.json first/result.json && [ "$(ls small/old)" = result.json ] && echo untouched >>left
S
if unshare -m true 2>/dev/null; then
    check 'a small file system' unshare -m bash mounted.sh "$scenario"
    check 'both fail' [ "$(echo $(cat rc))" = '3 3' ]
    check 'a full disk is told' says err 'No space left on device'
    check 'nothing is left behind, the old untouched' [ "$(echo $(cat left))" = 'filler old untouched' ]
else
    echo "no private mounts here: a full disk is tried by the file size limit alone, four checks fewer"
fi
# A folder in which nothing may be made, as a user who is not root.
mkdir closed
chmod 555 closed
if [ "$(id -u)" -ne 0 ]; then
    refuses 'a closed folder' closed/results 'Permission denied'
else
    refuses 'a folder of the kernel' /proc/results 'no folder can be made'
fi
chmod 755 closed

# Tables and pictures of a whole run, twice.
check 'a run' status 0 "$tool" run -q "$scenario" -o run-1
check 'a run again' status 0 "$tool" run -q "$scenario" -o run-2
check 'the same input gives the same bytes, pictures too' same run-1 run-2
for picture in strap wheels alignment supports side; do
    check "$picture.svg is XML" "$PYTHON" -c "import xml.dom.minidom; xml.dom.minidom.parse('run-1/$picture.svg')"
    check "$picture.svg has no clock, name or path" bash -c "! grep -q -e '$(date +%Y)-' -e '$work' -e '$SOURCE_DIR' run-1/$picture.svg"
done
# Regression: a load that the trailer's frame bears was in no picture. There is a line for it only where it bears any.
on_frame="$SOURCE_DIR/scenarios/teaching/bow-on-the-frame.yaml"
check 'a bow on the frame' status 1 "$tool" run -q --no-plots "$on_frame" -o on-frame
check 'a bow on the frame, settled' status 0 "$tool" settle -q "$on_frame" -o on-frame-settled
gnuplot -c "$SOURCE_DIR/plots/supports.gnuplot" on-frame on-frame/supports.svg
for picture in on-frame/supports on-frame-settled/curve; do
    check "$picture.svg has the frame's load" grep -q "trailer's frame" "$picture.svg"
done
check 'a frame that bears nothing is not drawn' [ "$(grep -c "trailer's frame" run-2/supports.svg)" = 0 ]
check 'a run without pictures' status 0 "$tool" run -q --no-plots "$scenario" -o run-1
check 'no pictures' [ -z "$(ls run-1 | grep svg)" ]
check 'the same tables' same run-1/timeline.csv run-2/timeline.csv
finish
