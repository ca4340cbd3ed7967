namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>What may stand at a key.</summary>
internal enum KeyKind
{
    Text = 0,
    Number = 1,
    Integer = 2,
    Flag = 3,
    Choice = 4,
    Date = 5,
    Section = 6,
    Sections = 7,
}
