#!/bin/bash
#SBATCH --job-name=fieldjacket-look
#SBATCH --cpus-per-task=2
#SBATCH --mem=1G
#SBATCH --requeue
# Looks at a season's photos in parts, one a task of a Slurm job array, in a folder that all nodes share:
#
#     job=$(sbatch --parsable --array=1-16 slurm.sh /shared/backlog 16)
#     sbatch --dependency=afterok:$job --wrap "fieldjacket run /shared/backlog"
#
# The number of parts stands again behind the folder, so that single parts can be repeated: sbatch --array=3,7 slurm.sh /shared/backlog 16
# Slurm calls the run failed where it ends with 3: it is done, and something needs a person.
set -eu
[ $# -eq 2 ] || {
	echo "usage: sbatch --array=1-PARTS slurm.sh SEASON PARTS" >&2
	exit 2
}
exec fieldjacket look "$1" --part "$SLURM_ARRAY_TASK_ID/$2" --children "$SLURM_CPUS_PER_TASK"
