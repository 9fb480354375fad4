use crate::util::Dir;
use std::fs;

#[test]
fn what_new_writes_can_be_checked() {
    let dir = Dir::new("what_new_writes_can_be_checked");
    let answer = dir.longodds(&["new", "claim.yaml"]);
    assert_eq!(answer.out, "wrote claim.yaml\nTo go on: longodds check claim.yaml\n");
    let answer = dir.longodds(&["check", "claim.yaml"]);
    assert_eq!((answer.status, answer.err.as_str()), (0, ""));
    assert!(answer.out.ends_with("no problems found\nTo go on: longodds run claim.yaml\n"));
    assert_eq!(dir.names(), ["claim.yaml"]);
}

#[test]
fn an_existing_file_is_left_alone() {
    let dir = Dir::new("an_existing_file_is_left_alone");
    dir.file("claim.yaml", "mine");
    let answer = dir.longodds(&["new", "claim.yaml"]);
    assert_eq!(answer.status, 3);
    insta::assert_snapshot!(answer.err, @"error: cannot write `claim.yaml`: it is there already, and is left as it is");
    assert_eq!(fs::read_to_string(dir.path("claim.yaml")).unwrap(), "mine");
}

#[test]
fn a_folder_that_is_not_there_or_is_a_file_is_one_clear_error() {
    let dir = Dir::new("a_folder_that_is_not_there_or_is_a_file_is_one_clear_error");
    dir.file("file", "");
    let answer = dir.longodds(&["new", "nowhere/claim.yaml"]);
    assert_eq!(answer.status, 3);
    insta::assert_snapshot!(answer.err, @"error: cannot write `nowhere/claim.yaml`: no such file or folder");
    let answer = dir.longodds(&["new", "file/claim.yaml"]);
    assert_eq!(answer.status, 3);
    assert_eq!(dir.names(), ["file"]);
}

#[cfg(unix)]
#[test]
fn a_folder_without_permission_is_one_clear_error() {
    use std::os::unix::fs::PermissionsExt;
    let dir = Dir::new("a_folder_without_permission_is_one_clear_error");
    fs::create_dir(dir.path("closed")).unwrap();
    fs::set_permissions(dir.path("closed"), fs::Permissions::from_mode(0o555)).unwrap();
    // An administrator may write anywhere: nothing to see then.
    let bound = fs::write(dir.path("closed/probe"), "").is_err();
    if bound {
        let answer = dir.longodds(&["new", "closed/claim.yaml"]);
        assert_eq!(answer.status, 3);
        assert!(answer.err.contains("cannot write `closed/claim.yaml`: permission denied"));
        assert_eq!(fs::read_dir(dir.path("closed")).unwrap().count(), 0);
    }
    fs::set_permissions(dir.path("closed"), fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_dash_prints_the_scenario() {
    let dir = Dir::new("a_dash_prints_the_scenario");
    let answer = dir.longodds(&["new", "-"]);
    assert_eq!(dir.longodds_with(&["check", "-"], &answer.out).status, 0);
    assert_eq!(dir.names(), Vec::<String>::new());
}
