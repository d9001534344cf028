//! Where a case's results lie, and how they are read.

use std::path::{Path, PathBuf};

use serde::de::DeserializeOwned;

/// The results of one case.
#[derive(Debug)]
pub(crate) struct Results {
    /// The case's name.
    pub(crate) case: String,
    folder: PathBuf,
}

impl Results {
    /// The folder `results` beside the folder that `case_file` is in.
    pub(crate) fn beside(case_file: &Path, case: &str) -> Self {
        let cases = case_file.parent().unwrap_or(Path::new("."));
        Self {
            case: case.to_owned(),
            folder: cases.join("../results"),
        }
    }

    /// The trajectory, one row per sample.
    pub(crate) fn trajectory<Row: DeserializeOwned>(&self) -> Result<Vec<Row>, String> {
        read(&self.folder.join(format!("{}.csv", self.case)))
    }

    /// This case's line of the summary of its `kind`.
    pub(crate) fn summary<Row: DeserializeOwned>(&self, kind: &str) -> Result<Row, String> {
        let file = self.folder.join(format!("summary_{kind}.csv"));
        let lines: Vec<SummaryLine<Row>> = read(&file)?;
        lines
            .into_iter()
            .find(|line| line.case == self.case)
            .map(|line| line.row)
            .ok_or_else(|| format!("no line in {}", file.display()))
    }
}

#[derive(serde::Deserialize)]
struct SummaryLine<Row> {
    case: String,
    #[serde(flatten)]
    row: Row,
}

fn read<Row: DeserializeOwned>(file: &Path) -> Result<Vec<Row>, String> {
    csv::Reader::from_path(file)
        .and_then(|reader| reader.into_deserialize().collect())
        .map_err(|why| format!("{}: {why}", file.display()))
}
