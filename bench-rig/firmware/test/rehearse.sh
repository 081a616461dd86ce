#!/usr/bin/env bash
# Both boards' real binaries in their emulators, in real time, coupled by the stage as on the bench:
# where the carriage goes, the canal's encoder and home switch go too. Ends with Ctrl-C.
#
#   rehearse.sh DIRECTORY     where make has put binaries and emulators
#
# Prints the options that name both ports. Takes, one to a line, what a hand would do, as the heads of
# world_drive.c and world_canal.c say: cut 1 presses the emergency stop, cut 0 releases it, press 1 and
# press 0 are the reset button, weld 9 and mend are a relay of the ladder; and where, which tells what an
# indicator at the carriage shows, µm upwards.
set -euo pipefail
out=$1
canal_step_microns=5
offset=1000000 # makes the division of a negative place one that rounds down

pipes=$(mktemp -d)
mkfifo "$pipes/canal" "$pipes/drive"
exec 3<>"$pipes/canal" 4<>"$pipes/drive"
trap 'kill $(jobs -p); rm -r "$pipes"' EXIT

# Every line that a board's world says; the canal board is told where the carriage is.
pass_on() {
  while read -r what value; do
    case $what in
      port) echo "$1 $value" ;;
      carriage)
        echo "$((-value))" >"$pipes/indicator"
        echo "goto $(((value + offset) / canal_step_microns - offset / canal_step_microns))" >&3
        ;;
      switch) echo "home $value" >&3 ;;
    esac
  done
}

echo "pace 100" >&3
echo "tell" >&4
"$out/canal-emulator" "$out/canal-board.elf" <&3 | pass_on --port &
"$out/drive-emulator" "$out/drive-board.elf" <&4 | pass_on --drive-port &
while read -r line; do
  case $line in
    where) cat "$pipes/indicator" ;;
    weld* | mend) echo "$line" >&3 ;;
    *) echo "$line" >&4 ;;
  esac
done
wait
